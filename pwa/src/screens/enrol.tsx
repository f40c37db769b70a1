// A new phone gets in: by the link that a camera read, or by eight letters. Its fields load while
// its person is still at the yard.
import { useComputed, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { NoKey } from '../db/keyring';
import { Refused, Unreachable } from '../net/api';
import { refusalWords } from '../state/people';
import { all } from '../state/records';
import { enter, open, role, tally } from '../state/session';
import { t, tn } from '../state/words';
import { Form, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { LanguagePicks } from '../ui/language';

function words(error: unknown): string {
  if (error instanceof Unreachable) return t('signIn.unreachable');
  if (error instanceof NoKey) return t('insecure');
  if (!(error instanceof Refused)) return String(error);
  if (error.problem.code === 'code') return t('enrol.wrong');
  return error.status === 404 ? t('enrol.wrong') : refusalWords(error);
}

export function Enrol() {
  const link = useSignal(decodeURIComponent(location.hash.slice(1)));
  const [code, login, password] = [useSignal(''), useSignal(''), useSignal('')];
  const [error, busy, choose] = [useSignal(''), useSignal(false), useSignal(false)];
  const { route } = useLocation();
  const go = async () => {
    [busy.value, error.value] = [true, ''];
    const by: Record<string, string> = link.value ? { link: link.value } : { code: code.value };
    const chosen = choose.value ? { login: login.value, password: password.value } : {};
    try {
      await enter('enrol', { ...by, ...chosen });
      route('/welcome', true);
    } catch (failure) {
      const needed = failure instanceof Refused && failure.problem.code === 'needed';
      if (needed) choose.value = true;
      else error.value = words(failure);
      if (failure instanceof Refused && failure.status === 404) link.value = '';
    }
    busy.value = false;
  };
  useEffect(() => {
    if (link.value) void go();
  }, []);
  return (
    <Frame
      title={t('enrol.title')}
      back={open.value ? '/settings' : '/sign-in'}
      backWords={t(open.value ? 'nav.settings' : 'signIn.title')}
    >
      {open.value && <p class="notice">{t('enrol.another', { name: open.value.known.name })}</p>}
      <Form onSubmit={() => void go()}>
        {!link.value && (
          <TextField
            label={t('enrol.code')}
            hint={t('enrol.codeHint')}
            value={code.value}
            onChange={(v) => (code.value = v)}
          />
        )}
        {choose.value && (
          <>
            <p>{t('enrol.choose')}</p>
            <TextField
              label={t('signIn.login')}
              value={login.value}
              autoComplete="username"
              onChange={(v) => (login.value = v)}
            />
            <TextField
              label={t('signIn.password')}
              type="password"
              hint={t('first.passwordHint')}
              value={password.value}
              autoComplete="new-password"
              onChange={(v) => (password.value = v)}
            />
          </>
        )}
        {error.value && (
          <p class="error" role="alert">
            {error.value}
          </p>
        )}
        <button class="loud" type="submit" disabled={busy.value}>
          {t('enrol.button')}
        </button>
      </Form>
      <LanguagePicks />
    </Frame>
  );
}

/** Says when all is loaded, and offers a dig to practise on. */
export function Welcome() {
  const fields = useComputed(() => all('field').length);
  const loaded = tally.value.lastAnswer !== '';
  const name = open.value?.known.name ?? '';
  if (role.value === 'grower') return <Looking name={name} />;
  return (
    <Frame title={t('welcome.title', { name })}>
      <p class="lead" aria-live="polite">
        {loaded ? tn('welcome.loaded', fields.value) : t('welcome.loading')}
      </p>
      <p>{t('welcome.screen')}</p>
      <a class="button" href="/practice">
        {t('welcome.practice')}
      </a>
      <a class="button loud" href="/">
        {t('nav.fields')}
      </a>
    </Frame>
  );
}

function Looking({ name }: { name: string }) {
  return (
    <Frame title={t('welcome.title', { name })}>
      <a class="button loud" href="/">
        {t('nav.fields')}
      </a>
    </Frame>
  );
}
