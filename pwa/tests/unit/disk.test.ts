// The disk fails at every write in turn: what was told as kept is there, what was not is not half
// there, and numbers stay dense.
import { afterEach, expect, test } from 'vitest';
import { Emptied } from '../../src/db/farm';
import { isFull } from '../../src/db/handle';
import { FarmServer } from './farm-server';
import { Phone } from './phone';

const own = { put: IDBObjectStore.prototype.put, add: IDBObjectStore.prototype.add };

afterEach(() => Object.assign(IDBObjectStore.prototype, own));

/** Lets the nth write from now on fail with the named error; gives how many writes there were. */
function failAt(nth: number, name: string): { writes: number } {
  const seen = { writes: 0 };
  const guard = (write: typeof own.put) =>
    function (this: IDBObjectStore, ...args: Parameters<typeof own.put>) {
      if (++seen.writes === nth) throw new DOMException('told to fail', name);
      return write.apply(this, args);
    };
  IDBObjectStore.prototype.put = guard(own.put);
  IDBObjectStore.prototype.add = guard(own.add);
  return seen;
}

async function day(phone: Phone): Promise<string[]> {
  const kept: string[] = [];
  for (const rec of ['a', 'b']) {
    const done = phone.keep(rec, { name: rec });
    await done.then(() => kept.push(rec)).catch(() => undefined);
    await phone.sync().catch(() => undefined);
  }
  return kept;
}

test('whichever write fails, what was kept arrives and nothing else', async () => {
  const calm = failAt(0, 'none');
  const probe = await Phone.start(new FarmServer());
  await day(probe);
  Object.assign(IDBObjectStore.prototype, own);
  expect(calm.writes).toBeGreaterThan(8);
  for (let nth = 1; nth <= calm.writes; nth++) {
    for (const name of ['QuotaExceededError', 'AbortError', 'DataError']) {
      const server = new FarmServer();
      const phone = await Phone.start(server);
      failAt(nth, name);
      const kept = await day(phone);
      Object.assign(IDBObjectStore.prototype, own);
      await phone.restart();
      await phone.sync();
      expect([...server.rows.keys()].sort(), `${name} at write ${nth}`).toEqual(kept);
      expect([...(await phone.store.view()).keys()].sort()).toEqual(kept);
      expect((await phone.store.state()).nextN).toBe(kept.length + 1);
      await phone.store.close();
    }
  }
});

test('a full disk is told as such', async () => {
  const phone = await Phone.start(new FarmServer());
  failAt(1, 'QuotaExceededError');
  const failure = await phone.keep('a', {}).catch((error: unknown) => error);
  expect(isFull(failure)).toBe(true);
});

test('a connection that the browser closed is opened again by itself', async () => {
  const phone = await Phone.start(new FarmServer());
  for (const name of ['InvalidStateError', 'UnknownError']) {
    failAt(1, name);
    await phone.keep(name, { name });
    Object.assign(IDBObjectStore.prototype, own);
  }
  expect((await phone.store.waiting()).map((w) => w.n)).toEqual([1, 2]);
});

test('a store that the browser emptied says so, and goes on under a new device id', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  await phone.keep('a', { name: 'a' });
  await phone.sync();
  await phone.keep('lost', { name: 'lost' });
  await phone.empty();
  await expect(phone.keep('b', {})).rejects.toThrow(Emptied);
  await expect(phone.store.putDraft('draft', {})).rejects.toThrow(Emptied);
  await expect(phone.store.view()).rejects.toThrow(Emptied);
  await phone.restart();
  expect((await phone.store.state()).device).toBe('');
});
