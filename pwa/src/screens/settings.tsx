// What a person can choose on this device, and the way out.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { hand, theme, type Hand, type Theme } from '../state/prefs';
import { atDesk } from '../state/place';
import { conflicts } from '../state/review';
import { mayPlan, open, role, signOut, tally } from '../state/session';
import { t, tn } from '../state/words';
import { openDigs } from '../state/dig';
import { photosHere, photosRefused } from '../state/photo';
import { Accounts } from '../ui/accounts';
import { Picks } from '../ui/form';
import { Frame, PhoneNav } from '../ui/frame';
import { LanguagePicks } from '../ui/language';
import { NewVersion } from '../ui/new-version';

export function Settings() {
  return (
    <Frame title={t('settings.title')} foot={<PhoneNav />}>
      <NewVersion />
      <Looks />
      {!atDesk.value && mayPlan.value && <AccountPages />}
      <FieldPages />
      {!looksIn() && <Unsent />}
      <You />
    </Frame>
  );
}

/** A grower looks in over the network: nothing is dug or kept on that device. */
const looksIn = (): boolean => role.value === 'grower';

function FieldPages() {
  return (
    <section class="group">
      <h2>{t('settings.help')}</h2>
      <ul class="lines">
        {!looksIn() && (
          <>
            <Line to="/practice" name={t('practice.title')} words={t('settings.practice')} />
            <Line to="/ready" name={t('ready.title')} words={t('settings.ready')} />
            <Line to="/sheet" name={t('sheet.link')} words={t('settings.sheet')} />
          </>
        )}
        <Line to="/about" name={t('nav.about')} words={t('settings.about')} />
      </ul>
    </section>
  );
}

function Unsent() {
  return (
    <section class="group stack">
      <h2>{t('settings.data')}</h2>
      <p>{unsent() > 0 ? tn('settings.waits', unsent()) : t('settings.nothingWaits')}</p>
      <Persistent />
      <p>{t('settings.exportWhy')}</p>
      <button type="button" onClick={() => void exportOutbox()}>
        {t('settings.export')}
      </button>
    </section>
  );
}

/** What is chosen on this device alone; the dark one of each row is how it is now. */
function Looks() {
  return (
    <>
      <LanguagePicks />
      <Picks
        label={t('settings.theme')}
        value={theme.value}
        options={[
          ['auto', t('theme.auto')],
          ['light', t('theme.light')],
          ['night', t('theme.night')],
        ]}
        onChange={(key) => (theme.value = key as Theme)}
      />
      <Picks
        label={t('settings.hand')}
        value={hand.value}
        options={[
          ['right', t('hand.right')],
          ['left', t('hand.left')],
        ]}
        onChange={(key) => (hand.value = key as Hand)}
      />
    </>
  );
}

/** On the phone's foot there is no room for what only some may do; at the desk its bar has it. */
function AccountPages() {
  const open = conflicts.value.length;
  return (
    <section class="group">
      <h2>{t('settings.account')}</h2>
      <ul class="lines">
        <Line
          to="/review"
          name={t('review.title')}
          words={open > 0 ? tn('review.nav', open) : t('review.none')}
        />
        <Line to="/people" name={t('nav.people')} words={t('settings.people')} />
        <Line to="/account" name={t('nav.account')} words={t('settings.accountWhat')} />
      </ul>
    </section>
  );
}

/** Who is signed in, where else, and at the very end the way out. */
function You() {
  const who = open.value?.owner;
  return (
    <section class="group stack">
      <h2>{t('settings.you')}</h2>
      {who && <p>{t('settings.who', { name: who.person.name, account: who.accountName })}</p>}
      <ul class="lines">
        <Line to="/me" name={t('me.title')} words={t('settings.me')} />
        <Line to="/sign-in?another" name={t('me.another')} words={t('me.anotherWhy')} />
      </ul>
      <Accounts />
      <Out />
    </section>
  );
}

/** A page to go to, with what is found there. */
function Line({ to, name, words }: { to: string; name: string; words: string }) {
  return (
    <li>
      <a class="line" href={to}>
        <b>{name}</b>
        <span class="line-words">{words}</span>
      </a>
    </li>
  );
}

/** What only this device has: entries, open digs, photos. */
const unsent = (): number =>
  tally.value.waiting + openDigs.value.length + photosHere.value + photosRefused.value.length;

/** Whether the browser may clear this device's data; asked for with a tap, as browsers want it. */
function Persistent() {
  const held = useSignal<boolean | undefined>(undefined);
  const refused = useSignal(false);
  useEffect(() => {
    void navigator.storage?.persisted?.().then((yes) => (held.value = yes));
  }, []);
  const ask = async () => {
    held.value = await navigator.storage.persist();
    refused.value = !held.value;
  };
  if (held.value === undefined) return null;
  if (held.value) return <p>{t('persist.yes')}</p>;
  return (
    <>
      <p>{t(refused.value ? 'persist.refused' : 'persist.not')}</p>
      <button type="button" onClick={() => void ask()}>
        {t('persist.ask')}
      </button>
    </>
  );
}

function Out() {
  const asked = useSignal(false);
  const { route } = useLocation();
  const go = async () => {
    await signOut();
    route('/', true);
  };
  if (!asked.value) {
    return (
      <button type="button" onClick={() => (asked.value = true)}>
        {t('settings.signOut')}
      </button>
    );
  }
  return (
    <section class="notice">
      <p>{unsent() > 0 ? tn('settings.unsent', unsent()) : t('settings.nothingUnsent')}</p>
      <button type="button" onClick={() => void go()}>
        {t('settings.signOutNow')}
      </button>
      <button type="button" onClick={() => (asked.value = false)}>
        {t('settings.stay')}
      </button>
    </section>
  );
}

/** The last resort: everything unsent or refused, as a file of JSON lines. */
async function exportOutbox(): Promise<void> {
  const store = open.value?.store;
  if (!store) return;
  const [waiting, sent, openDigs] = await Promise.all([
    store.waiting(),
    store.sent(),
    store.drafts(),
  ]);
  const refused = sent.filter((s) => s.outcome === 'quarantined').map((s) => s.text);
  const lines = [
    ...waiting.map((w) => w.text),
    ...refused,
    ...openDigs.map((d) => JSON.stringify(d)),
  ];
  const url = URL.createObjectURL(
    new Blob([lines.join('\n') + '\n'], { type: 'application/x-ndjson' }),
  );
  const link = document.createElement('a');
  link.href = url;
  link.download = 'hilum-unsent.jsonl';
  link.click();
  const longEnoughMS = 10_000;
  setTimeout(() => URL.revokeObjectURL(url), longEnoughMS);
}
