// The person's own part: on which devices they are signed in, the password, the second step, and
// what is stored about them. All of it stands at the farm server, so all of it needs a signal.
import { useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Device, Me as Mine, RecoveryCodes, SecondStart } from '../wire.gen';
import * as people from '../state/people';
import { role } from '../state/session';
import { showMoment, t, tn } from '../state/words';
import { Form, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { Squares } from '../ui/squares';

/** Does something at the server, then reads the person's part again; says whether it was done. */
type Act = (work: () => Promise<unknown>) => Promise<boolean>;

export function Me() {
  const mine = useSignal<Mine | undefined>(undefined);
  const error = useSignal('');
  const act: Act = async (work) => {
    try {
      await work();
      mine.value = await people.ask<Mine>('me');
      error.value = '';
      return true;
    } catch (failure) {
      error.value = people.refusalWords(failure);
      return false;
    }
  };
  useEffect(() => void act(() => Promise.resolve()), []);
  const me = mine.value;
  return (
    <Frame title={t('me.title')} back="/settings" backWords={t('nav.settings')}>
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      {!me && !error.value && <p>{t('server.asking')}</p>}
      {me && <Devices me={me} act={act} />}
      {me?.hasPassword && <NewPassword act={act} second={me.second} />}
      {me?.hasPassword && role.value !== 'scout' && <Second me={me} act={act} />}
      {me && <Data />}
    </Frame>
  );
}

function Devices({ me, act }: { me: Mine; act: Act }) {
  const shown = me.devices.filter((d) => d.open);
  return (
    <section class="group">
      <h2>{t('me.devices')}</h2>
      <ul class="lines plain">
        {shown.map((d) => (
          <li key={d.id} class="beside">
            {t('device.line', { device: people.deviceWords(d.name), state: seen(d) })}
            {d.id === me.here ? (
              <span class="quiet">{t('me.here')}</span>
            ) : (
              <button type="button" onClick={() => void act(() => people.endMine(d.id))}>
                {t('me.end')}
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

const seen = (d: Device): string => t('device.seen', { when: showMoment(d.seenAt, Date.now()) });

interface LineProps {
  of: Signal<string>;
  label: string;
  hint?: string;
  secret?: 'current-password' | 'new-password';
}

function Line({ of, label, hint, secret }: LineProps) {
  return (
    <TextField
      label={label}
      type={secret ? 'password' : 'text'}
      autoComplete={secret ?? 'off'}
      value={of.value}
      onChange={(v) => (of.value = v)}
      {...(hint ? { hint } : {})}
    />
  );
}

function NewPassword({ act, second }: { act: Act; second: boolean }) {
  const [old, fresh, done] = [useSignal(''), useSignal(''), useSignal(false)];
  const go = async () => {
    const body = { old: old.value, password: fresh.value };
    done.value = await act(() => people.tell('me/password', body));
    if (done.value) [old.value, fresh.value] = ['', ''];
  };
  return (
    <Form onSubmit={() => void go()}>
      <h2>{t('reset.title')}</h2>
      <Line of={old} label={t('me.old')} secret="current-password" />
      <Line
        of={fresh}
        label={t('reset.password')}
        hint={t(second ? 'me.shorter' : 'first.passwordHint')}
        secret="new-password"
      />
      <button type="submit">{t('reset.button')}</button>
      {done.value && <p role="status">{t('me.changed')}</p>}
    </Form>
  );
}

function Second({ me, act }: { me: Mine; act: Act }) {
  const [old, code] = [useSignal(''), useSignal('')];
  const start = useSignal<SecondStart | undefined>(undefined);
  const printed = useSignal<readonly string[]>([]);
  const clear = () => ([old.value, code.value] = ['', '']);
  const begin = () =>
    act(async () => {
      start.value = await people.tell<SecondStart>('me/second', { old: old.value });
      clear();
    });
  const confirm = () =>
    act(async () => {
      const answer = await people.tell<RecoveryCodes>('me/second/confirm', { code: code.value });
      [printed.value, start.value] = [answer.codes, undefined];
      clear();
    });
  const end = () =>
    act(async () => {
      await people.tell('me/second/end', { old: old.value, code: code.value });
      printed.value = [];
      clear();
    });
  if (printed.value.length > 0) return <Printed codes={printed.value} />;
  if (start.value)
    return (
      <Form onSubmit={() => void confirm()}>
        <h2>{t('second.title')}</h2>
        <p>{t('second.scan')}</p>
        <Squares rows={start.value.qr} label={t('code.picture')} />
        <p>{t('second.orType', { secret: inFours(start.value.secret) })}</p>
        <Line of={code} label={t('second.code')} />
        <button type="submit">{t('second.confirm')}</button>
      </Form>
    );
  return (
    <Form onSubmit={() => void (me.second ? end() : begin())}>
      <h2>{t('second.title')}</h2>
      <p>{me.second ? tn('second.on', me.recoveryLeft) : t('second.why')}</p>
      <Line of={old} label={t('me.old')} secret="current-password" />
      {me.second && <Line of={code} label={t('second.code')} />}
      <button type="submit">{t(me.second ? 'second.end' : 'second.start')}</button>
    </Form>
  );
}

/** "WF3Q KRIS KLPQ": letters that somebody types from a screen. */
const inFours = (secret: string): string => secret.replaceAll(/.{4}(?=.)/g, '$& ');

function Printed({ codes }: { codes: readonly string[] }) {
  return (
    <section class="notice">
      <h2>{t('second.printed')}</h2>
      <p>{t('second.printedWhy')}</p>
      <ul class="letters">
        {codes.map((c) => (
          <li key={c}>{c}</li>
        ))}
      </ul>
      <button type="button" onClick={() => print()}>
        {t('second.print')}
      </button>
    </section>
  );
}

/** Everything that is stored about the person, as a file. */
function Data() {
  const error = useSignal('');
  const fetchIt = async () => {
    error.value = await people.keepFile('me/data', 'hilum-me.jsonl');
  };
  return (
    <section class="group">
      <h2>{t('me.data')}</h2>
      <p>{t('me.dataWhat')}</p>
      <button type="button" onClick={() => void fetchIt()}>
        {t('me.dataFile')}
      </button>
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
    </section>
  );
}
