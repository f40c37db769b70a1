// Getting in: with a name and password, or by a one-time link that makes the account or a new
// password. The link's secret stands behind the # and so reaches no server log.
import { signal, useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { Refused, Unreachable } from '../net/api';
import type { Known } from '../db/schema';
import { problemWords } from '../state/problem';
import { enter, knownHere, open, type Door } from '../state/session';
import { t } from '../state/words';
import { Form, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { LanguagePicks } from '../ui/language';

const busy = signal(false);

function words(error: unknown): string {
  if (error instanceof Unreachable) return t('signIn.unreachable');
  if (!(error instanceof Refused)) return String(error);
  if (error.status === 401) return t('signIn.wrong');
  if (error.status === 429) return t('signIn.tooOften');
  return problemWords(error.problem);
}

type Values = Record<string, Signal<string>>;

interface DoorProps {
  door: Door;
  values: Values;
  fixed?: Record<string, string>;
  button: string;
  children: preact.ComponentChildren;
}

function DoorForm({ door, values, fixed = {}, button, children }: DoorProps) {
  const error = useSignal('');
  const { route } = useLocation();
  const go = async () => {
    const body = { ...fixed };
    for (const [name, value] of Object.entries(values)) body[name] = value.value;
    busy.value = true;
    error.value = '';
    try {
      await enter(door, body);
      route('/', true);
    } catch (failure) {
      error.value = words(failure);
    }
    busy.value = false;
  };
  return (
    <Form onSubmit={() => void go()}>
      {children}
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      <button class="loud" type="submit" disabled={busy.value}>
        {button}
      </button>
    </Form>
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
  const known = useSignal<Known[]>([]);
  useEffect(() => {
    login.value = open.value?.known.login ?? '';
    void knownHere().then((list) => (known.value = list));
  }, []);
  return (
    <Frame title={t('signIn.title')}>
      {open.value && <p>{t('signIn.again')}</p>}
      <DoorForm door="signin" values={{ login, password }} button={t('signIn.button')}>
        <Line of={login} label={t('signIn.login')} autoComplete="username" />
        <Line
          of={password}
          label={t('signIn.password')}
          type="password"
          autoComplete="current-password"
        />
      </DoorForm>
      {known.value.length > 0 && !open.value && (
        <p class="aside">
          {t('signIn.known', {
            names: known.value.map((k) => `${k.name} (${k.accountName})`).join(', '),
          })}
        </p>
      )}
      {!isSecureContext && <p class="error">{t('insecure')}</p>}
      <a class="button" href="/practice">
        {t('practice.offer')}
      </a>
      <LanguagePicks />
    </Frame>
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
