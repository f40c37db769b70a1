// Where practice begins and ends; works before anybody has signed in, and without a signal.
import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { practiceField } from '../state/practice-field';
import { endPractice, practising, startPractice } from '../state/practice';
import { open } from '../state/session';
import { t } from '../state/words';
import { Frame } from '../ui/frame';

export function Practice() {
  const { route } = useLocation();
  const busy = useSignal(false);
  const start = async () => {
    busy.value = true;
    route(await startPractice());
    busy.value = false;
  };
  return (
    <Frame
      title={t('practice.title')}
      back="/"
      backWords={t(open.value ? 'nav.fields' : 'signIn.title')}
    >
      <p class="lead">{t('practice.what')}</p>
      <p>{t('practice.apart')}</p>
      {practising.value && (
        <a class="loud" href={`/field/${practiceField}/dig`}>
          {t('practice.goOn')}
        </a>
      )}
      <button
        type="button"
        class={practising.value ? '' : 'loud'}
        disabled={busy.value}
        onClick={() => void start()}
      >
        {t(practising.value ? 'practice.again' : 'practice.start')}
      </button>
      {practising.value && <EndPractice />}
    </Frame>
  );
}

function EndPractice() {
  const { route } = useLocation();
  const end = async () => {
    await endPractice();
    route('/', true);
  };
  return (
    <button type="button" onClick={() => void end()}>
      {t('practice.end')}
    </button>
  );
}

/** Over every screen while practising. */
export function PracticeBand() {
  if (!practising.value) return null;
  return (
    <aside class="practice-band leave" aria-label={t('practice.title')}>
      <p>{t('practice.band')}</p>
      <EndPractice />
    </aside>
  );
}
