// The other accounts of this device. Each has a database, a device id, a session and a courier of its
// own: what a person entered in one goes up while another is open, and what is new comes down.
import { effect, signal } from '@preact/signals';
import { NoKey } from '../db/keyring';
import type { Seen } from '../db/overlay';
import { FarmStore } from '../db/farm';
import type { Known } from '../db/schema';
import { newId } from '../id';
import { Refused } from '../net/api';
import { Loop } from '../sync/loop';
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
import { open } from './session';
import { lockFor } from './wait';

/** What a screen sees of an account that is not the open one. */
export interface Beside {
  known: Known;
  view: ReadonlyMap<string, Seen>;
  waiting: number;
}

export const beside = signal<readonly Beside[]>([]);

interface Courier {
  known: Known;
  store: FarmStore;
  loop: Loop;
  channel: BroadcastChannel;
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
    },
    deviceChanged: async (device) => {
      dropToken(known);
      await note(c, { ...c.known, device, former: c.known.former ?? c.known.device });
    },
  });
  const c: Courier = { known, store, loop, channel };
  return c;
}

function end(key: string, c: Courier): void {
  c.loop.stop();
  c.channel.close();
  couriers.delete(key);
  void c.store.close();
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
    else void c.store.close();
  }
  await look();
}

async function look(): Promise<void> {
  const list = [...couriers.values()].map(async ({ known, store }) => {
    const [view, waiting] = await Promise.all([store.view(), store.waiting()]);
    return { known, view, waiting: waiting.length };
  });
  const found = await Promise.all(list).catch(() => undefined);
  if (found) beside.value = found;
}

let arranging: Promise<void> = Promise.resolve();

/** back: the signal has just come back, so that no courier waits any longer. */
export function syncBeside(back = false): Promise<void> {
  arranging = arranging
    .then(arrange)
    .then(() => void [...couriers.values()].forEach((c) => void c.loop.run(back)))
    .catch(() => undefined); // the next moment tries again
  return arranging;
}

/** Wires the moments at which the other accounts are worth a round. */
export function watchBeside(): void {
  const soon = () => (document.visibilityState === 'visible' ? void syncBeside() : undefined);
  const everyMS = 60_000;
  effect(() => {
    if (open.value) soon();
    else beside.value = [];
  });
  addEventListener('online', () => void syncBeside(true));
  document.addEventListener('visibilitychange', soon);
  setInterval(soon, everyMS);
}
