// Who works in this account, on which phones, and how somebody new gets in.
import { useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Code, Device, Member } from '../wire.gen';
import * as people from '../state/people';
import { all } from '../state/records';
import { role } from '../state/session';
import { showMoment, t, tn, type Key } from '../state/words';
import { Choice, Form, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { Squares } from '../ui/squares';

interface Desk {
  list: Signal<Member[] | undefined>;
  error: Signal<string>;
  /** Does something at the server, then reads the list again. */
  act: (work: () => Promise<unknown>) => Promise<boolean>;
}

export function People() {
  const list = useSignal<Member[] | undefined>(undefined);
  const error = useSignal('');
  const act = async (work: () => Promise<unknown>): Promise<boolean> => {
    try {
      await work();
      list.value = await people.members();
      error.value = '';
      return true;
    } catch (failure) {
      error.value = people.refusalWords(failure);
      return false;
    }
  };
  useEffect(() => void act(() => Promise.resolve()), []);
  const desk = { list, error, act };
  return (
    <Frame wide title={t('people.title')} back="/">
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      {!list.value && !error.value && <p>{t('server.asking')}</p>}
      <ul class="lines plain">
        {list.value?.map((m) => (
          <li key={m.id}>
            <OnePerson m={m} desk={desk} />
          </li>
        ))}
      </ul>
      {list.value && <AddPerson desk={desk} />}
      {role.value === 'owner' && (
        <a class="button" href="/audit">
          {t('audit.title')}
        </a>
      )}
    </Frame>
  );
}

const looksAfter: Readonly<Record<string, readonly string[]>> = {
  owner: ['consultant', 'scout', 'grower'],
  consultant: ['scout', 'grower'],
};

const mine = (): readonly string[] => looksAfter[role.value] ?? [];

function OnePerson({ m, desk }: { m: Member; desk: Desk }) {
  const code = useSignal<Code | undefined>(undefined);
  const managed = mine().includes(m.role);
  const invite = () =>
    void desk.act(async () => {
      code.value = await people.makeCode(m.id);
    });
  return (
    <article class="person">
      <h2>
        {m.name} <span class="quiet">{t(`role.${m.role}` as Key)}</span>
        {m.archived && <span class="quiet"> {t('people.gone')}</span>}
      </h2>
      {m.devices.map((d) => (
        <OneDevice key={d.id} d={d} managed={managed} desk={desk} />
      ))}
      {code.value && <ShowCode code={code.value} done={() => (code.value = undefined)} />}
      {managed && (
        <div class="beside">
          {!m.archived && !code.value && (
            <button type="button" onClick={invite}>
              {t('people.code')}
            </button>
          )}
          {!m.alias && <Leave m={m} desk={desk} />}
        </div>
      )}
    </article>
  );
}

function OneDevice({ d, managed, desk }: { d: Device; managed: boolean; desk: Desk }) {
  const asked = useSignal(false);
  const seen = showMoment(d.seenAt, Date.now());
  const state = d.revoked
    ? t('device.shutOut', { when: showMoment(d.revoked, Date.now()) })
    : t(d.open ? 'device.seen' : 'device.closed', { when: seen });
  return (
    <div class="beside">
      <p>
        {t('device.line', { device: people.deviceWords(d.name), state })}{' '}
        {tn('device.entries', d.lastN)}
      </p>
      {managed && !d.revoked && !asked.value && (
        <button type="button" onClick={() => (asked.value = true)}>
          {t('device.shut')}
        </button>
      )}
      {asked.value && (
        <section class="notice">
          <p>{t('device.shutWhy')}</p>
          <button
            type="button"
            onClick={() => {
              asked.value = false;
              void desk.act(() => people.revoke(d.id));
            }}
          >
            {t('device.shutNow')}
          </button>
          <button type="button" onClick={() => (asked.value = false)}>
            {t('form.cancel')}
          </button>
        </section>
      )}
    </div>
  );
}

/** For one phone, for ten minutes. The letters are for a phone whose camera does not read it. */
function ShowCode({ code, done }: { code: Code; done: () => void }) {
  const typed = `${code.code.slice(0, 4)} ${code.code.slice(4)}`;
  return (
    <section class="notice code">
      <p>{t('code.how')}</p>
      <Squares rows={code.qr} label={t('code.picture')} />
      <div>
        <p>{t('code.orType', { address: `${location.host}/enrol` })}</p>
        <p class="key words letters">{typed}</p>
        <p>{t('code.until')}</p>
        <button type="button" onClick={done}>
          {t('code.done')}
        </button>
      </div>
    </section>
  );
}

function Leave({ m, desk }: { m: Member; desk: Desk }) {
  const asked = useSignal('');
  const alias = useSignal('');
  const say = (archived: boolean) => void desk.act(() => people.editPerson(m.id, { archived }));
  if (m.archived && asked.value === '')
    return (
      <>
        <button type="button" onClick={() => say(false)}>
          {t('people.back')}
        </button>
        {role.value === 'owner' && (
          <button type="button" onClick={() => (asked.value = 'name')}>
            {t('people.takeOut')}
          </button>
        )}
      </>
    );
  if (asked.value === '')
    return (
      <button type="button" onClick={() => (asked.value = 'leave')}>
        {t('people.leaves')}
      </button>
    );
  const naming = asked.value === 'name';
  const go = () => {
    asked.value = '';
    if (naming) void desk.act(() => people.takeOutName(m.id, alias.value));
    else say(true);
  };
  return (
    <section class="notice">
      <p>{t(naming ? 'people.takeOutWhy' : 'people.leavesWhy', { name: m.name })}</p>
      {naming && (
        <TextField
          label={t('people.alias')}
          value={alias.value}
          onChange={(v) => (alias.value = v)}
        />
      )}
      <button type="button" onClick={go}>
        {t(naming ? 'people.takeOutNow' : 'people.leavesNow')}
      </button>
      <button type="button" onClick={() => (asked.value = '')}>
        {t('form.cancel')}
      </button>
    </section>
  );
}

function AddPerson({ desk }: { desk: Desk }) {
  const name = useSignal('');
  const work = useSignal('scout');
  const language = useSignal('');
  const grower = useSignal('');
  const add = async () => {
    if (work.value === 'grower' && grower.value === '') {
      desk.error.value = t('people.needsGrower');
      return;
    }
    const person = {
      name: name.value,
      role: work.value,
      language: language.value,
      ...(work.value === 'grower' ? { grower: grower.value } : {}),
    };
    if (await desk.act(() => people.addPerson(person))) name.value = '';
  };
  return (
    <Form onSubmit={() => void add()}>
      <h2>{t('people.add')}</h2>
      <p>{t('people.addHow')}</p>
      <div class="entries">
        <TextField label={t('people.name')} value={name.value} onChange={(v) => (name.value = v)} />
        <Choice
          label={t('people.role')}
          value={work.value}
          options={mine().map((r) => [r, t(`role.${r}` as Key)] as const)}
          onChange={(v) => (work.value = v)}
        />
        {work.value === 'grower' && (
          <Choice
            label={t('people.whose')}
            value={grower.value}
            options={[
              ['', t('figure.none')],
              ...all('grower').map((g) => [g.id, g.body.name] as const),
            ]}
            onChange={(v) => (grower.value = v)}
          />
        )}
        <Choice
          label={t('settings.language')}
          value={language.value}
          options={[
            ['', t('figure.none')],
            ['en', 'English'],
            ['fr', 'Français'],
          ]}
          onChange={(v) => (language.value = v)}
        />
      </div>
      <button type="submit" class="loud">
        {t('people.addButton')}
      </button>
    </Form>
  );
}
