import { expect, test } from 'vitest';
import { PhotoStore } from '../../src/db/photo';
import { addPhoto, begin, nextSpot, photosOf, tap } from '../../src/dig/draft';
import { Refused, Unreachable } from '../../src/net/api';
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
