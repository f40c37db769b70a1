// The other accounts of this device. Each has a database, a device id, a session and a courier of its
// own: what a person entered in one goes up while another is open, and what is new comes down.
import { effect, signal } from '@preact/signals';
import { NoKey } from '../db/keyring';
import type { Seen } from '../db/overlay';
import { FarmStore } from '../db/farm';
import { PhotoStore } from '../db/photo';
import type { Known } from '../db/schema';
import { draftKey, isBlank, type DigDraft } from '../dig/draft';
import { newId } from '../id';
import { Refused } from '../net/api';
import { Loop } from '../sync/loop';
import { runLane } from '../sync/photo-lane';
import { packedAccount } from '../sync/snapshot';
import {
  api,
  asArrived,
  dropToken,
  freshToken,
  keyOf,
  registry,
  withTokenOf,
} from './access';
import { saidBy } from './photo';
import type { Rec } from './records';
import { open, wantsLook } from './session';
import { lockFor } from './wait';

/** What a screen sees of an account that is not the open one. */
export interface Beside {
  known: Known;
  view: ReadonlyMap<string, Seen>;
  /** Entries that wait, photos whose bytes are only here and may still go, and open digs. */
  waiting: number;
  photos: number;
  digs: number;
  /** Refused entries that want a look. */
  look: number;
}

export const beside = signal<readonly Beside[]>([]);

/** Whether the other accounts have been looked at; before that nobody may say they hold nothing. */
export const besideKnown = signal(false);

interface Courier {
  known: Known;
  store: FarmStore;
  loop: Loop;
  channel: BroadcastChannel;
  photos: PhotoStore;
  sendingPhotos: boolean;
  ended: boolean;
}

const couriers = new Map<string, Courier>();

/** Undefined: a person has to open the account, to sign in or because it was shut out. */
async function tokenOf(c: Courier): Promise<string | undefined> {
  try {
    return await freshToken(c.known, () => note(c, asArrived(c.known)));
  } catch (error) {
    const refused = error instanceof Refused && (error.status === 401 || error.status === 403);
    if (refused || error instanceof NoKey) return undefined;
    throw error;
  }
}

async function note(c: Courier, known: Known): Promise<void> {
  c.known = known;
  await registry.put(known);
}

function courierFor(known: Known): Courier {
  const store = new FarmStore(known.farm, known.person);
  const name = `${known.farm}:${known.person}`;
  const channel = new BroadcastChannel(`hilum-${known.farm}-${known.person}`);
  channel.onmessage = () => void look();
  const run = <T>(work: (access: string) => Promise<T>) => withTokenOf(known, () => tokenOf(c), work);
  const loop = new Loop({
    ports: {
      store,
      send: (text) => run((access) => api.sync(known.farm, access, text)),
      now: () => new Date().toISOString(),
      newDevice: () => newId(Date.now()),
      snapshot: () => packedAccount(() => run((access) => api.snapshot(known.farm, access))),
    },
    lock: lockFor(`sync:${name}`),
    ready: async () => (await tokenOf(c)) !== undefined,
    clockMS: () => performance.now(),
    random: () => Math.random(),
    later: (ms, work) => void setTimeout(work, ms),
    tell: () => undefined,
    changed: async () => {
      // One that has ended meanwhile has closed its channel.
      if (couriers.get(keyOf(known)) === c) channel.postMessage('changed');
      await look();
      void sendPhotos(c);
    },
    deviceChanged: async (device) => {
      dropToken(known);
      await note(c, { ...c.known, device, former: c.known.former ?? c.known.device });
    },
  });
  const photos = new PhotoStore(known.farm, known.person);
  const c: Courier = { known, store, loop, channel, photos, sendingPhotos: false, ended: false };
  return c;
}

const photoRecords = (view: ReadonlyMap<string, Seen>) =>
  [...view.values()].filter((s) => s.kind === 'photo') as unknown as Rec<'photo'>[];

/** Photos after the records, as in the open account. What breaks off goes on with a later round. */
async function sendPhotos(c: Courier): Promise<void> {
  const { known, store, photos } = c;
  if (c.sendingPhotos || c.ended) return;
  c.sendingPhotos = true;
  try {
    if ((await store.waiting()).length > 0 || (await photos.names()).length === 0) return;
    const records = photoRecords(await store.view());
    const put = (sha: string, bytes: ArrayBuffer) => (access: string) =>
      api.putPhoto(known.farm, access, sha, bytes);
    await runLane({
      store: photos,
      said: (sha) => saidBy(records, sha),
      put: (sha, bytes) => withTokenOf(known, () => tokenOf(c), put(sha, bytes)),
      pull: () => void c.loop.run(true),
      wait: (ms) => new Promise((done) => setTimeout(done, ms)),
      paused: () => undefined,
      still: () => !c.ended,
    });
    await look();
  } catch {
    // No signal, or no access until a person signs in: the hand-in goes on counting them.
  } finally {
    c.sendingPhotos = false;
  }
}

function end(key: string, c: Courier): void {
  c.ended = true;
  c.loop.stop();
  c.channel.close();
  couriers.delete(key);
  void c.store.close();
  void c.photos.close();
}

/** Only real accounts beside a real one: practice is alone, and growers keep nothing. */
async function wanted(): Promise<Map<string, Known>> {
  const here = open.value;
  if (!here || here.alone) return new Map();
  const list = (await registry.list()).filter((k) => !k.signedOut && k.role !== 'grower');
  return new Map(list.map((k) => [keyOf(k), k] as const).filter(([key]) => key !== keyOf(here.known)));
}

/** Makes and ends couriers, so that there is one for each account that is not open. */
async function arrange(): Promise<void> {
  const now = await wanted();
  for (const [key, c] of couriers) if (!now.has(key)) end(key, c);
  for (const [key, known] of now) {
    if (couriers.has(key)) continue;
    const c = courierFor(known);
    // One that its browser has emptied is opened by a person, who is then told.
    if (await c.store.owner()) couriers.set(key, c);
    else end(key, c);
  }
  await look();
}

async function look(): Promise<void> {
  const list = [...couriers.values()].map(async ({ known, store, photos }): Promise<Beside> => {
    const [view, waiting, sent, held] = await Promise.all([
      store.view(),
      store.waiting(),
      store.sent(),
      photos.names(),
    ]);
    const refused = held.length > 0 ? (await photos.refused()).length : 0;
    const digs = ((await store.drafts(draftKey(''))) as DigDraft[]).filter((d) => !isBlank(d));
    const sums = { waiting: waiting.length, photos: held.length - refused, digs: digs.length };
    return { known, view, look: sent.filter(wantsLook).length, ...sums };
  });
  const found = await Promise.all(list).catch(() => undefined);
  if (!found) return;
  beside.value = found;
  besideKnown.value = true;
}

let arranging: Promise<void> = Promise.resolve();

/** back: the signal has just come back, so that no courier waits any longer. */
export function syncBeside(back = false): Promise<void> {
  arranging = arranging
    .then(arrange)
    .then(() => {
      for (const c of couriers.values()) void c.loop.run(back).then(() => sendPhotos(c));
    })
    .catch(() => undefined); // the next moment tries again
  return arranging;
}

/** Wires the moments at which the other accounts are worth a round. */
export function watchBeside(): void {
  const soon = () => (document.visibilityState === 'visible' ? void syncBeside() : undefined);
  const everyMS = 60_000;
  effect(() => {
    besideKnown.value = false;
    if (open.value) soon();
    else beside.value = [];
  });
  addEventListener('online', () => void syncBeside(true));
  document.addEventListener('visibilitychange', soon);
  setInterval(soon, everyMS);
}
