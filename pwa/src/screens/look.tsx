// Records that the server keeps but will not use as they are: what, why, and what can be done.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Sent } from '../db/schema';
import { problemWords } from '../state/problem';
import { changedHere, open, tally } from '../state/session';
import { t, tn } from '../state/words';
import { Frame } from '../ui/frame';
import { describe } from './hand-in';

export function Look() {
  const list = useSignal<Sent[]>([]);
  useEffect(() => {
    void open.value?.store.sent().then((all) => {
      list.value = all.filter((s) => s.outcome === 'quarantined' && !s.seen);
    });
  }, [tally.value.look]);
  const seen = async (s: Sent) => {
    await open.value?.store.markSeen(s.device, s.n);
    await changedHere();
  };
  return (
    <Frame title={t('look.title')} back="/hand-in" backWords={t('nav.handIn')}>
      {list.value.length === 0 ? (
        <p>{t('look.none')}</p>
      ) : (
        <p>{tn('state.look', list.value.length)}</p>
      )}
      {list.value.map((s) => (
        <section key={`${s.device}${s.n}`} class="answer">
          <h2>{describe(s.text).what}</h2>
          <p>
            {t('look.why', {
              why: problemWords(s.problem),
            })}
          </p>
          <p>{t('look.what')}</p>
          <details class="reason">
            <summary>{t('look.asKept')}</summary>
            <pre>{s.text}</pre>
          </details>
          <button type="button" onClick={() => void seen(s)}>
            {t('look.seen')}
          </button>
        </section>
      ))}
    </Frame>
  );
}
