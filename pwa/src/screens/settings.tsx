// What a person can choose on this device, and the way out.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { hand, theme, type Hand, type Theme } from '../state/prefs';
import { open, signOut, tally } from '../state/session';
import { t, tn } from '../state/words';
import { drafts } from '../state/dig';
import { Accounts } from '../ui/accounts';
import { Picks } from '../ui/form';
import { Frame, PhoneNav } from '../ui/frame';
import { LanguagePicks } from '../ui/language';
import { NewVersion } from '../ui/new-version';

export function Settings() {
  const who = open.value?.owner;
  return (
    <Frame title={t('settings.title')} foot={<PhoneNav />}>
      <NewVersion />
      {who && <p>{t('settings.who', { name: who.person.name, account: who.accountName })}</p>}
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
      <Accounts />
      <a class="button" href="/me">
        {t('me.title')}
      </a>
      <h2>{t('settings.data')}</h2>
      <Persistent />
      <p>{t('settings.exportWhy')}</p>
      <button type="button" onClick={() => void exportOutbox()}>
        {t('settings.export')}
      </button>
      <a class="button" href="/practice">
        {t('practice.title')}
      </a>
      <a class="button" href="/sheet">
        {t('sheet.link')}
      </a>
      <a class="button" href="/about">
        {t('nav.about')}
      </a>
      <Out />
    </Frame>
  );
}

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
  const unsent = tally.value.waiting + drafts.value.size;
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
      <p>{unsent > 0 ? tn('settings.unsent', unsent) : t('settings.nothingUnsent')}</p>
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
