// Before the day: six things, each in order or with the one thing to do about it.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { drafts } from '../state/dig';
import { checks, type Check, type CheckName } from '../state/ready';
import { phase, syncNow, tally } from '../state/session';
import { takeNewVersion } from '../state/update';
import { showMoment, t, type Key } from '../state/words';
import { Frame, PhoneNav } from '../ui/frame';

export function MorningCheck() {
  const list = useSignal<Check[]>([]);
  const look = async () => {
    list.value = await checks(Date.now());
  };
  const answered = tally.value.lastAnswer;
  useEffect(() => void look(), [answered]);
  const all = list.value.length > 0 && list.value.every((c) => c.good);
  return (
    <Frame title={t('ready.title')} back="/hand-in" backWords={t('nav.handIn')} foot={<PhoneNav />}>
      {all && <p class="key words">{t('ready.all')}</p>}
      <ul class="lines plain checks">
        {list.value.map((c) => (
          <li key={c.name} class={c.good ? 'in-order' : 'to-do'}>
            <p>
              <Mark good={c.good} /> {words(c)}
            </p>
            {!c.good && <Remedy name={c.name} again={look} />}
          </li>
        ))}
      </ul>
      {answered && (
        <p class="aside">{t('fields.age', { when: showMoment(answered, Date.now()) })}</p>
      )}
    </Frame>
  );
}

function words({ name, good, n }: Check): string {
  return t(`ready.${name}.${good ? 'good' : 'bad'}` as Key, { n });
}

/** A tick or a hollow ring, with the word for it: colour never says it alone. */
function Mark({ good }: { good: boolean }) {
  return (
    <>
      <svg class={good ? 'check-mark' : 'check-mark open'} viewBox="0 0 16 16" aria-hidden="true">
        {good ? <path d="M2 8.5 6.5 13 14 3.5" /> : <circle cx="8" cy="8" r="6" />}
      </svg>
      <b>{t(good ? 'ready.good' : 'ready.bad')}</b>
    </>
  );
}

function Remedy({ name, again }: { name: CheckName; again: () => Promise<void> }) {
  if (name === 'storage') {
    const ask = () => void navigator.storage?.persist?.().then(again);
    return <Act onTap={ask} words={t('persist.ask')} />;
  }
  if (name === 'version' && drafts.value.size === 0)
    return <Act onTap={takeNewVersion} words={t('update.take')} />;
  if (name !== 'fields' && name !== 'age' && name !== 'clock') return null;
  if (phase.value.at === 'signIn')
    return (
      <a class="button" href="/sign-in">
        {t('signIn.button')}
      </a>
    );
  return <Act onTap={() => void syncNow(true)} words={t('ready.fetch')} />;
}

function Act({ onTap, words }: { onTap: () => void; words: string }) {
  return (
    <button type="button" onClick={onTap}>
      {words}
    </button>
  );
}
