// Getting in: with a name and password, or by a one-time link that makes the account or a new
// password. The link's secret stands behind the # and so reaches no server log.
import { signal, useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { Refused, Unreachable } from '../net/api';
import { NoKey } from '../db/keyring';
import type { Known } from '../db/schema';
import { problemWords } from '../state/problem';
import { waitMinutes } from '../state/people';
import { change, enter, knownHere, open, WhichAccount, type Door } from '../state/session';
import type { Membership } from '../wire.gen';
import { t, tn } from '../state/words';
import { Form, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { LanguagePicks } from '../ui/language';

const busy = signal(false);

/** The server's word for: this person signs in with a second step. */
const needsCode = 'signin.code';

function words(error: unknown): string {
  if (error instanceof Unreachable) return t('signIn.unreachable');
  if (error instanceof NoKey) return t('insecure');
  if (!(error instanceof Refused)) return String(error);
  if (error.problem.code === needsCode) return t('signIn.codeNow');
  if (error.status === 401) return t('signIn.wrong');
  if (error.status === 429) return tn('signIn.wait', waitMinutes(error));
  return problemWords(error.problem);
}

type Values = Record<string, Signal<string>>;

interface DoorProps {
  door: Door;
  values: Values;
  fixed?: Record<string, string>;
  button: string;
  /** A second step is asked for. */
  asked?: () => void;
  children: preact.ComponentChildren;
}

function DoorForm({ door, values, fixed = {}, button, asked, children }: DoorProps) {
  const error = useSignal('');
  const { route } = useLocation();
  const which = useSignal<readonly Membership[]>([]);
  const chosen = useSignal('');
  const go = async (farm = '') => {
    const body: Record<string, string> = { ...fixed, ...(farm ? { farm } : {}) };
    for (const [name, value] of Object.entries(values)) body[name] = value.value;
    busy.value = true;
    error.value = '';
    try {
      await enter(door, body);
      route('/', true);
    } catch (failure) {
      which.value = failure instanceof WhichAccount ? failure.accounts : which.value;
      error.value = failure instanceof WhichAccount ? '' : words(failure);
      chosen.value = farm;
      if (failure instanceof Refused && failure.problem.code === needsCode) asked?.();
    }
    busy.value = false;
  };
  return (
    <Form onSubmit={() => void go(chosen.value)}>
      {children}
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      {which.value.length > 0 && <WhichOne of={which.value} choose={(farm) => void go(farm)} />}
      <button class={which.value.length > 0 ? '' : 'loud'} type="submit" disabled={busy.value}>
        {button}
      </button>
    </Form>
  );
}

/** One name and one password in several accounts. */
function WhichOne({ of, choose }: { of: readonly Membership[]; choose: (farm: string) => void }) {
  return (
    <section class="group doors" role="alert">
      <p>{t('signIn.which')}</p>
      {of.map((m) => (
        <button key={m.farm} type="button" disabled={busy.value} onClick={() => choose(m.farm)}>
          {t('me.open', { account: m.accountName, name: m.name })}
        </button>
      ))}
    </section>
  );
}

function Line({
  of,
  label,
  ...rest
}: {
  of: Signal<string>;
  label: string;
  hint?: string;
  type?: 'text' | 'password';
  autoComplete?: string;
}) {
  return <TextField label={label} value={of.value} onChange={(v) => (of.value = v)} {...rest} />;
}

export function SignIn() {
  const login = useSignal('');
  const password = useSignal('');
  const code = useSignal('');
  const second = useSignal(false);
  const known = useSignal<Known[]>([]);
  const another = useLocation().query['another'] !== undefined;
  useEffect(() => {
    login.value = another ? '' : (open.value?.known.login ?? '');
    void knownHere().then((list) => (known.value = list));
  }, []);
  return (
    <Frame
      title={t(another ? 'me.another' : 'signIn.title')}
      {...(another ? { back: '/settings', backWords: t('nav.settings') } : {})}
    >
      {open.value && <p>{t(another ? 'signIn.another' : 'signIn.again')}</p>}
      <DoorForm
        door="signin"
        values={{ login, password, code }}
        button={t('signIn.button')}
        asked={() => (second.value = true)}
      >
        <Line of={login} label={t('signIn.login')} autoComplete="username" />
        <Line
          of={password}
          label={t('signIn.password')}
          type="password"
          autoComplete="current-password"
        />
        {second.value && (
          <Line
            of={code}
            label={t('second.code')}
            hint={t('second.codeHint')}
            autoComplete="one-time-code"
          />
        )}
      </DoorForm>
      <a class="button" href="/enrol">
        {t('signIn.haveCode')}
      </a>
      {known.value.length > 0 && !open.value && <KnownHere known={known.value} />}
      {!isSecureContext && <p class="error">{t('insecure')}</p>}
      <a class="button" href="/practice">
        {t('practice.offer')}
      </a>
      <LanguagePicks />
    </Frame>
  );
}

/** Whose work is on this device. One that has not signed out opens with a tap. */
function KnownHere({ known }: { known: readonly Known[] }) {
  const { route } = useLocation();
  const names = known.map((k) => `${k.name} (${k.accountName})`).join(', ');
  return (
    <section class="aside">
      <p>{t('signIn.known', { names })}</p>
      {known
        .filter((k) => !k.signedOut)
        .map((k) => (
          <button
            key={k.farm + k.person}
            type="button"
            onClick={() => void change(k).then(() => route('/', true))}
          >
            {t('me.open', { account: k.accountName, name: k.name })}
          </button>
        ))}
    </section>
  );
}

const secret = (): string => decodeURIComponent(location.hash.slice(1));

export function FirstOwner() {
  const values = {
    account: useSignal(''),
    name: useSignal(''),
    login: useSignal(''),
    password: useSignal(''),
    timeZone: useSignal(Intl.DateTimeFormat().resolvedOptions().timeZone),
    currency: useSignal('CAD'),
  };
  const link = useSignal(secret());
  return (
    <Frame title={t('first.title')}>
      <p>{t('first.lead')}</p>
      <DoorForm
        door="first-owner"
        values={values}
        fixed={{ link: link.value }}
        button={t('first.button')}
      >
        <Line of={values.account} label={t('first.account')} hint={t('first.accountHint')} />
        <Line of={values.name} label={t('first.name')} autoComplete="name" />
        <Line of={values.login} label={t('signIn.login')} autoComplete="username" />
        <Line
          of={values.password}
          label={t('signIn.password')}
          type="password"
          hint={t('first.passwordHint')}
          autoComplete="new-password"
        />
        <Line of={values.timeZone} label={t('account.timeZone')} hint={t('account.timeZoneHint')} />
        <Line of={values.currency} label={t('account.currency')} hint={t('account.currencyHint')} />
      </DoorForm>
      <LanguagePicks />
    </Frame>
  );
}

export function ResetAccess() {
  const password = useSignal('');
  const link = useSignal(secret());
  return (
    <Frame title={t('reset.title')}>
      <DoorForm
        door="reset-access"
        values={{ password }}
        fixed={{ link: link.value }}
        button={t('reset.button')}
      >
        <Line
          of={password}
          label={t('reset.password')}
          type="password"
          hint={t('first.passwordHint')}
          autoComplete="new-password"
        />
      </DoorForm>
    </Frame>
  );
}
