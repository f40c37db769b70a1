// One round trip: what waits goes up, what is new comes down. Only the server's answer for a
// mutation takes it off the outbox; every failure leaves it where it is.
import { PROTO, SCHEMA, type SyncResponse } from '../wire.gen';
import { Refused } from '../net/api';
import type { FarmStore, Waiting } from '../db/farm';
import type { SyncState } from '../db/schema';
import type { Snapshot } from './snapshot';

/** What one push holds at most; half the server's limits, so that one answer comes soon. */
const mostMutations = 500;
const mostBytes = 1 << 20;

export interface Ports {
  store: FarmStore;
  send: (text: string) => Promise<SyncResponse>;
  now: () => string;
  newDevice: () => string;
  /** The packed account for a first load; undefined where the server gives none. */
  snapshot?: () => Promise<Snapshot | undefined>;
  progress: (sending: number, waiting: number) => void;
}

export interface RoundResult {
  more: boolean;
  /** A push that the server cannot read at all; pulls go on without it. */
  stuck: Refused | undefined;
  newDevice: string | undefined;
}

export function cut(waiting: readonly Waiting[], most: number): Waiting[] {
  const batch: Waiting[] = [];
  let bytes = 0;
  for (const w of waiting) {
    bytes += w.text.length * 3; // the most that UTF-8 makes of a UTF-16 unit
    if (batch.length >= most || (bytes > mostBytes && batch.length > 0)) break;
    batch.push(w);
  }
  return batch;
}

/** The request as text: the stored bytes of each mutation stand in it unchanged. */
export function requestText(state: SyncState, cursor: number, batch: readonly Waiting[]): string {
  const { device, epoch, floor } = state;
  // The floor belongs to the rows up to the cursor; a load from the start has none yet.
  const low = floor === undefined || cursor === 0 ? {} : { floor };
  const head = JSON.stringify({ proto: PROTO, schema: SCHEMA, device, epoch, cursor, ...low });
  return `${head.slice(0, -1)},"push":[${batch.map((w) => w.text).join(',')}]}`;
}

/** Statuses by which a push itself is refused, whoever sends it and whenever. */
const unreadable = new Set([400, 413, 415, 422]);

async function exchange(p: Ports, state: SyncState, waiting: Waiting[], cursor: number) {
  let size = mostMutations;
  for (;;) {
    const batch = cut(waiting, size);
    p.progress(batch.length, waiting.length);
    try {
      const res = await p.send(requestText(state, cursor, batch));
      return { res, batch, stuck: undefined };
    } catch (error) {
      const refused = error instanceof Refused && unreadable.has(error.status);
      if (!refused || batch.length === 0) throw error;
      // Find the one that cannot be read, and at the last pull without pushing.
      if (batch.length > 1) size = Math.ceil(batch.length / 2);
      else return { res: await p.send(requestText(state, cursor, [])), batch: [], stuck: error };
    }
  }
}

/** A device that has nothing yet starts with the packed account: two requests in all. */
async function firstLoad(p: Ports): Promise<void> {
  if (!p.snapshot) return;
  const { cursor, epoch } = await p.store.state();
  if (cursor !== 0 || epoch !== '') return;
  const packed = await p.snapshot();
  if (packed) await p.store.start(packed);
}

/** afresh: the epoch to start over with, from cursor 0. */
export async function round(p: Ports, afresh?: string): Promise<RoundResult> {
  await firstLoad(p);
  const [kept, waiting] = await Promise.all([p.store.state(), p.store.waiting()]);
  const state = afresh === undefined ? kept : { ...kept, epoch: afresh };
  const cursor = afresh === undefined ? state.cursor : 0;
  const { res, batch, stuck } = await exchange(p, state, waiting, cursor);
  const newEpoch = state.epoch !== '' && res.epoch !== state.epoch;
  if (newEpoch || res.reset) return afterReset(p, state, res, newEpoch, cursor);
  await p.store.absorb({ device: state.device, cursor }, res, p.now());
  let device: string | undefined;
  if (res.acks.some((ack) => ack.outcome === 'cloned')) device = await leave(p);
  else if (res.expect !== undefined) device = await fillGap(p, res.expect);
  const left = waiting.length - batch.length;
  const again = res.expect !== undefined || device !== undefined;
  return { more: !!res.more || again || (left > 0 && !stuck), stuck, newDevice: device };
}

/** Keeps the outcomes that came along, then starts the base over; the old base stays until then. */
async function afterReset(
  p: Ports,
  state: SyncState,
  res: SyncResponse,
  newEpoch: boolean,
  cursor: number,
): Promise<RoundResult> {
  if (cursor === 0 && !newEpoch) throw new Error('the server asks to start over at the start');
  await p.store.absorb({ device: state.device, cursor }, { ...res, reset: true }, p.now());
  if (newEpoch) {
    const device = await p.store.offerAll(p.newDevice);
    if (device !== undefined) return { more: true, stuck: undefined, newDevice: device };
  }
  return round(p, res.epoch);
}

async function fillGap(p: Ports, expect: number): Promise<string | undefined> {
  return (await p.store.offerAgain(expect)) ? undefined : leave(p);
}

async function leave(p: Ports): Promise<string> {
  const device = p.newDevice();
  await p.store.becomeDevice(device);
  return device;
}
