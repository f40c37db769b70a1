// People and devices of the account. They stand at the farm server alone, so all of it needs a
// signal.
import type { Code, EditPerson, Member, NewPerson, Person } from '../wire.gen';
import { Refused } from '../net/api';
import { problemWords } from './problem';
import { api, open, withToken } from './session';
import { t, tn } from './words';

const farm = (): string => open.value?.owner.farm ?? '';

/** Reads from the open account. */
export const ask = <T>(path: string): Promise<T> =>
  withToken((access) => api.ask<T>(farm(), access, path));

/** Does something in the open account. */
export const tell = <T>(path: string, body: unknown = {}): Promise<T> =>
  withToken((access) => api.tell<T>(farm(), access, path, body));

export const members = async (): Promise<Member[]> =>
  (await ask<{ people: Member[] }>('people')).people;

export const addPerson = (p: NewPerson): Promise<Person> => tell('people', p);

export const editPerson = (id: string, e: EditPerson): Promise<void> => tell(`people/${id}`, e);

export const takeOutName = (id: string, alias: string): Promise<void> =>
  tell(`people/${id}/alias`, { alias });

export const makeCode = (id: string): Promise<Code> =>
  tell(`people/${id}/code`, { origin: location.origin });

export const revoke = (device: string): Promise<void> => tell(`devices/${device}/revoke`);

/** Fetches something as a file and hands it to the browser to keep; says what went wrong, or ''. */
export async function keepFile(path: string, name: string): Promise<string> {
  try {
    const blob = await withToken((access) => api.file(farm(), access, path));
    const url = URL.createObjectURL(blob);
    const link = document.createElement('a');
    [link.href, link.download] = [url, name];
    link.click();
    const longEnoughMS = 10_000;
    setTimeout(() => URL.revokeObjectURL(url), longEnoughMS);
    return '';
  } catch (error) {
    return refusalWords(error);
  }
}

export const endMine = (device: string): Promise<void> => tell(`me/devices/${device}/end`);

/** A device by the kind it signed in as; another name is a name and stays as it is. */
export function deviceWords(name: string): string {
  if (name === 'Phone') return t('device.phone');
  return name === 'Desk' ? t('device.desk') : name || t('device.unnamed');
}

/** Why something at the server could not be done, in the person's language. */
export function refusalWords(error: unknown): string {
  if (!(error instanceof Refused)) return t('people.offline');
  if (error.status === 429) return tn('signIn.wait', waitMinutes(error));
  if (error.status === 403) return t('people.notYours');
  if (error.status === 401) return t('signIn.again');
  return problemWords(error.problem);
}

export const waitMinutes = (error: Refused): number =>
  Math.max(1, Math.ceil(error.retryAfterMS / 60_000));
