import { afterEach, expect, test } from 'vitest';
import { FarmStore } from '../../src/db/farm';
import { PhotoStore } from '../../src/db/photo';
import { addPhoto, begin, nextSpot, photosOf, tap } from '../../src/dig/draft';
import { Refused, Unreachable } from '../../src/net/api';
import { FarmServer } from './farm-server';
import { Phone } from './phone';
import { runLane, type Said } from '../../src/sync/photo-lane';

let made = 0;

async function laneWith(said: { [sha: string]: Said }) {
  const store = new PhotoStore(`farm-${++made}`, 'person');
  for (const [sha256, { takenAt }] of Object.entries(said))
    await store.put({ sha256, bytes: new ArrayBuffer(3), takenAt, refused: '' });
  const sent: string[] = [];
  let pulls = 0;
  const ports = {
    store,
    said: (sha: string) => said[sha],
    put: (sha: string) => {
      sent.push(sha);
      return Promise.resolve();
    },
    pull: () => void pulls++,
    wait: () => Promise.resolve(),
    paused: () => undefined,
    still: () => true,
  };
  return { store, sent, ports, pulls: () => pulls };
}

const at = (day: number, known = true, stored = false): Said => ({
  known,
  stored,
  takenAt: `2027-06-${day}T08:00:00Z`,
});

test('photos go newest first, and only those whose record is at the server', async () => {
  const { sent, ports, store, pulls } = await laneWith({
    old: at(10),
    fresh: at(14),
    early: at(15, false),
  });
  await runLane(ports);
  expect(sent).toEqual(['fresh', 'old']);
  expect(pulls()).toBe(1);
  expect((await store.names()).sort()).toEqual(['early', 'fresh', 'old']);
});

test('bytes are let go when the record says stored, and not before', async () => {
  const { sent, ports, store } = await laneWith({ a: at(10, true, true), b: at(11) });
  await runLane(ports);
  expect(sent).toEqual(['b']);
  expect(await store.names()).toEqual(['b']);
});

test('bytes that will never be taken are asked once and stay; no signal ends it', async () => {
  const { ports, store } = await laneWith({ a: at(10) });
  let asked = 0;
  const refuse = () => {
    asked++;
    return Promise.reject(new Refused(422, { code: 'invalid', message: 'no JPEG' }, 0));
  };
  await runLane({ ...ports, put: refuse });
  await runLane({ ...ports, put: refuse });
  expect([asked, (await store.get('a'))?.refused]).toEqual([1, 'no JPEG']);
  const cut = await laneWith({ a: at(10) });
  const gone = () => Promise.reject(new Unreachable());
  await expect(runLane({ ...cut.ports, put: gone })).rejects.toThrow(Unreachable);
  expect(await cut.store.names()).toEqual(['a']);
});

test('a backlog keeps the pause that the server asks for, and comes through by itself', async () => {
  const all = Array.from({ length: 40 }, (_, i) => [`p${i}`, at(10 + (i % 20))] as const);
  const { ports, sent, pulls } = await laneWith(Object.fromEntries(all));
  // As the server counts: ten at once, then one each two seconds.
  let [purse, clock, refused] = [10, 0, 0];
  const told: number[] = [];
  const put = (sha: string) => {
    if (purse < 1) {
      refused++;
      return Promise.reject(new Refused(429, { code: 'pace', message: 'wait' }, 2000));
    }
    purse--;
    return ports.put(sha);
  };
  const wait = (ms: number) => {
    clock += ms;
    purse += ms / 2000;
    return Promise.resolve();
  };
  await runLane({ ...ports, put, wait, paused: (ms) => void told.push(ms) });
  expect([sent.length, refused, clock, told]).toEqual([40, 1, 60_000, [2000, 0]]);
  expect(pulls()).toBe(1);
});

test('a pause ends with its account: nothing of it goes up once another is open', async () => {
  const { ports, sent, pulls } = await laneWith({ a: at(10), b: at(11) });
  let here = true;
  const put = (sha: string) => {
    here = false;
    return ports.put(sha);
  };
  await runLane({ ...ports, put, still: () => here });
  expect([sent, pulls()]).toEqual([['b'], 0]);
});

test('a photo of a spot left empty goes with the dig, without the spot', () => {
  let no = 0;
  const id = () => `id-${++no}`;
  let draft = begin('dig', 'field', 2027, '2027-06-14');
  for (const answer of ['vigorous', 'none']) draft = tap(draft, answer, id);
  const full = draft.spots[0]?.id ?? '';
  draft = nextSpot(draft, 'empty');
  const photo = { field: 'field', dig: 'dig', size: 3, w: 1, h: 1, takenAt: 'now' };
  draft = addPhoto(draft, { ...photo, sha256: 'a', spot: full });
  draft = addPhoto(draft, { ...photo, sha256: 'b', spot: 'empty' });
  expect(photosOf(draft).map((p) => p.spot)).toEqual([full, undefined]);
});

const own = IDBObjectStore.prototype.put;
afterEach(() => void (IDBObjectStore.prototype.put = own));

test('records are kept and sent while photos can be neither', async () => {
  const phone = await Phone.start(new FarmServer());
  const { store, ports } = await laneWith({ a: at(10) });
  IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...args: [unknown]) {
    if (this.name === 'picture') throw new DOMException('no room', 'QuotaExceededError');
    return own.apply(this, args);
  };
  const picture = { sha256: 'b', bytes: new ArrayBuffer(3), takenAt: '', refused: '' };
  await expect(store.put(picture)).rejects.toThrow('no room');
  const full = new Refused(507, { code: 'full', message: 'no room for photos' }, 0);
  for (const rec of ['x', 'y']) {
    const lane = runLane({ ...ports, put: () => Promise.reject(full) }).catch((e: unknown) => e);
    await phone.keep(rec, { name: rec });
    await phone.sync();
    expect(await lane).toBe(full);
  }
  expect([...phone.server.rows.keys()].sort()).toEqual(['x', 'y']);
  expect(await store.names()).toEqual(['a']);
});

test('photos that will never be taken are named apart, until a person lets them go', async () => {
  const { ports, store } = await laneWith({ a: at(10), b: at(11) });
  const put = (sha: string) => {
    const why = { code: 'invalid', message: 'no JPEG' };
    return sha === 'a' ? Promise.reject(new Refused(413, why, 0)) : Promise.resolve();
  };
  await runLane({ ...ports, put });
  expect((await store.refused()).map((p) => [p.sha256, p.refused])).toEqual([['a', 'no JPEG']]);
  await store.drop('a');
  expect(await store.refused()).toEqual([]);
});

test('two accounts and two persons on one phone never see each other\u2019s work', async () => {
  const owners = [
    { farm: 'one', id: 'ann' },
    { farm: 'one', id: 'bo' },
    { farm: 'two', id: 'ann' },
  ];
  const stores = owners.map(({ farm, id }) => new FarmStore(farm, id));
  for (const [i, store] of stores.entries()) {
    const { farm, id } = owners[i] ?? { farm: '', id: '' };
    const person = { id, name: id, role: 'scout' };
    await store.settle({ farm, accountName: farm, person }, `device-${i}`);
    const edit = { rec: `rec-${i}`, kind: 'field', base: 0, set: { name: `${i}` } };
    await store.keep([edit], '2027-06-14T08:00:00Z');
    await store.putDraft('open', { of: i });
  }
  for (const [i, store] of stores.entries()) {
    expect([...(await store.view()).keys()]).toEqual([`rec-${i}`]);
    expect(await store.drafts()).toEqual([{ of: i }]);
    expect((await store.state()).nextN).toBe(2);
  }
});
