import { expect, test, vi } from 'vitest';
import { FarmStore } from '../../src/db/farm';
import { Registry } from '../../src/db/registry';
import { farmDatabase } from '../../src/db/schema';
import { tap } from '../../src/dig/draft';
import { closeDig, drafts, put, startPaperDig } from '../../src/state/dig';
import { endPractice, practising, startPractice } from '../../src/state/practice';
import { practiceField } from '../../src/state/practice-field';
import { all } from '../../src/state/records';
import { open, syncNow, tally, withToken } from '../../src/state/session';

// The little of a browser that the state asks for when it is loaded.
vi.hoisted(() => {
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { visibilityState: 'hidden', documentElement: { dataset: {} } });
});

let ids = 0;
const newId = () => `id-${++ids}`;

/** A phone on which a scout has signed in and left one entry unsent. */
async function realWork(): Promise<FarmStore> {
  const store = new FarmStore('farm', 'scout');
  const person = { id: 'scout', name: 'A scout', role: 'scout' };
  await store.settle({ farm: 'farm', accountName: 'An account', person }, 'device-real');
  await store.keep([{ rec: 'f', kind: 'field', base: 0, set: { name: 'Real' } }], '2027-06-14');
  const known = { farm: 'farm', person: 'scout', device: 'device-real', login: 'scout' };
  const rest = { name: 'A scout', role: 'scout', accountName: 'An account', signedOut: false };
  await new Registry().put({ ...known, ...rest, lastUsed: '2027-06-14' });
  return store;
}

test('a practice dig reaches neither the real data nor a server', async () => {
  const asked = vi.fn(() => Promise.reject(new Error('no network in practice')));
  vi.stubGlobal('fetch', asked);
  const real = await realWork();
  await startPractice();
  expect(practising.value).toBe(true);
  expect(farmDatabase('practice', 'here')).toContain('practice');
  expect(all('field').map((f) => f.id)).toEqual([practiceField]);
  expect(open.value?.known.device).not.toBe('device-real');

  expect(startPaperDig(practiceField, '2027-06-01')).toBeUndefined();
  const draft = drafts.value.get(practiceField);
  if (!draft) throw new Error('no dig was opened');
  expect([draft.date, draft.cropYear]).toEqual(['2027-06-01', 2027]);
  put(['pale', 'none'].reduce((d, answer) => tap(d, answer, newId), draft));
  // A paper of another day never takes over what was dug: the open dig keeps its own.
  expect(startPaperDig(practiceField, '2027-06-02')).toBe('2027-06-01');
  expect(drafts.value.get(practiceField)?.date).toBe('2027-06-01');
  expect(await closeDig(practiceField)).toBe(true);
  expect(tally.value.waiting).toBe(1);
  await syncNow(true);
  await expect(withToken(() => Promise.resolve('sent'))).rejects.toThrow();
  expect(asked).not.toHaveBeenCalled();
  expect(await real.waiting()).toHaveLength(1);
  expect(await real.drafts()).toEqual([]);
});

test('after practice the real work is back, and each practice begins anew', async () => {
  vi.stubGlobal('fetch', () => Promise.reject(new Error('no signal')));
  await endPractice();
  expect(practising.value).toBe(false);
  expect(open.value?.known.device).toBe('device-real');
  expect(all('dig')).toEqual([]);
  expect(drafts.value.size).toBe(0);
  await startPractice();
  expect(all('dig')).toEqual([]);
  await endPractice();
});
