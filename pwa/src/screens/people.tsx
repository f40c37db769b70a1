// Who works in this account. Needs the network: people are the server's business, not the phone's.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Person } from '../wire.gen';
import { Refused } from '../net/api';
import { problemWords } from '../state/problem';
import { api, open, withToken } from '../state/session';
import { t, type Key } from '../state/words';
import { Choice, Form, TextField } from '../ui/form';
import { Frame } from '../ui/frame';

const words = (error: unknown): string => {
  if (!(error instanceof Refused)) return t('people.offline');
  return problemWords(error.problem);
};

export function People() {
  const list = useSignal<Person[] | undefined>(undefined);
  const error = useSignal('');
  const farm = open.value?.owner.farm ?? '';
  const load = async () => {
    try {
      list.value = await withToken((access) => api.people(farm, access));
      error.value = '';
    } catch (failure) {
      error.value = words(failure);
    }
  };
  useEffect(() => void load(), [farm]);
  return (
    <Frame wide title={t('people.title')} back="/">
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      {list.value && (
        <table>
          <thead>
            <tr>
              <th>{t('people.name')}</th>
              <th>{t('signIn.login')}</th>
              <th>{t('people.role')}</th>
            </tr>
          </thead>
          <tbody>
            {list.value.map((p) => (
              <tr key={p.id}>
                <td>{p.name}</td>
                <td>{p.login}</td>
                <td>{t(`role.${p.role}` as Key)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <AddPerson farm={farm} added={() => void load()} />
    </Frame>
  );
}

function AddPerson({ farm, added }: { farm: string; added: () => void }) {
  const name = useSignal('');
  const login = useSignal('');
  const password = useSignal('');
  const role = useSignal('scout');
  const error = useSignal('');
  const add = async () => {
    const person = {
      name: name.value,
      login: login.value,
      password: password.value,
      role: role.value,
    };
    try {
      await withToken((access) => api.addPerson(farm, access, person));
      [name.value, login.value, password.value, error.value] = ['', '', '', ''];
      added();
    } catch (failure) {
      error.value = words(failure);
    }
  };
  return (
    <Form onSubmit={() => void add()}>
      <h2>{t('people.add')}</h2>
      <div class="entries">
        <TextField label={t('people.name')} value={name.value} onChange={(v) => (name.value = v)} />
        <TextField
          label={t('signIn.login')}
          value={login.value}
          onChange={(v) => (login.value = v)}
        />
        <TextField
          label={t('signIn.password')}
          value={password.value}
          type="password"
          autoComplete="new-password"
          hint={t('first.passwordHint')}
          onChange={(v) => (password.value = v)}
        />
        <Choice
          label={t('people.role')}
          value={role.value}
          options={[
            ['scout', t('role.scout')],
            ['consultant', t('role.consultant')],
          ]}
          onChange={(v) => (role.value = v)}
        />
      </div>
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      <button type="submit" class="loud">
        {t('people.addButton')}
      </button>
    </Form>
  );
}
