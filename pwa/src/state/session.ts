// Who is using this device, which account's data is open, and the courier that syncs it. A device
// that has signed in once opens without the network: only sending and fetching need a token.
import { computed, signal } from '@preact/signals';
import { deleteDB } from 'idb';
import { Emptied, FarmStore } from '../db/farm';
import { fillReserve } from '../db/reserve';
import { localDay } from '../day';
import { deviceKey, NoKey } from '../db/keyring';
import { farmDatabase, type Known, type Owner, type Sent } from '../db/schema';
import { newId } from '../id';
import { Refused } from '../net/api';
import { Loop, type Phase } from '../sync/loop';
import { Poker } from '../sync/poker';
import { packedAccount } from '../sync/snapshot';
import type { Membership } from '../wire.gen';
import {
  api,
  asArrived,
  dropToken,
  freshToken,
  holdToken,
  keyOf,
  registry,
  ticketToken,
  withTokenOf,
} from './access';
import { deviceDay, view } from './records';
import { forgetReports } from './report';
import { dropSight } from './sight';
import { lockFor, waitFor } from './wait';
import { notKept } from './trouble';

export interface Open {
  store: FarmStore;
  owner: Owner;
  known: Known;
  /** Practice: no courier, no token, nothing is ever asked of a server. */
  alone?: true;
}

/** What waits, what came back refused, and when the server last answered. */
export interface Tally {
  waiting: number;
  oldest: string;
  look: number;
  lastAnswer: string;
}

export const booted = signal(false);
export const open = signal<Open | undefined>(undefined);
export const phase = signal<Phase>({ at: 'idle' });
/** Refused by the server, and no person has looked at it yet. */
export const wantsLook = (s: Sent): boolean => s.outcome === 'quarantined' && !s.seen;

export const tally = signal<Tally>({ waiting: 0, oldest: '', look: 0, lastAnswer: '' });
export const bootError = signal('');

export const role = computed(() => open.value?.owner.person.role ?? '');
export const mayPlan = computed(() => role.value === 'owner' || role.value === 'consultant');

export { api };

let loop: Loop | undefined;
let poker: Poker | undefined;
let channel: BroadcastChannel | undefined;

const iso = (): string => new Date().toISOString();

/** Opens what was used last. Never asks the network. */
export async function openLast(): Promise<void> {
  const known = await registry.last();
  if (known) await openKnown(known);
}

/** Opens data that no courier ever touches. */
export async function openAlone(data: Omit<Open, 'alone'>): Promise<void> {
  await leaveOpen();
  open.value = { ...data, alone: true };
  await refreshView();
}

export async function boot(openFirst: () => Promise<void> = openLast): Promise<void> {
  try {
    await openFirst();
  } catch (error) {
    bootError.value = error instanceof Error ? error.message : String(error);
  }
  booted.value = true;
}

async function openKnown(listed: Known): Promise<void> {
  const store = new FarmStore(listed.farm, listed.person);
  // Asked for together, since each answer of the disk is a wait; the view stays in memory.
  const [owner, known] = await Promise.all([store.owner(), inStep(listed, store), store.view()]);
  if (!owner) {
    // The list of accounts knows it, its own storage does not: the browser has emptied that.
    notKept.value = 'emptied';
    return;
  }
  open.value = { store, owner, known };
  await refreshView();
  if (known.role === 'grower') return; // looks in over the network, keeps and sends nothing
  startLoop(store, known);
  startPoker(store, known);
}

/** The store takes a new device id first; a kill right then leaves the registry behind. */
async function inStep(known: Known, store: FarmStore): Promise<Known> {
  const { device } = await store.state();
  if (device === '' || device === known.device) return known;
  const moved = { ...known, device, former: known.former ?? known.device };
  await registry.put(moved);
  return moved;
}

let reading: Promise<void> | undefined;
let readAgain: Promise<void> | undefined;

/**
 * Reads the device's state again and tells the screens. One read at a time: what comes while one
 * runs shares the next, so that an older state never takes the place of a newer one.
 */
export function refreshView(): Promise<void> {
  if (!reading) {
    reading = readView().finally(() => (reading = undefined));
    return reading;
  }
  readAgain ??= reading
    .catch(() => undefined)
    .then(() => {
      readAgain = undefined;
      return refreshView();
    });
  return readAgain;
}

async function readView(): Promise<void> {
  const store = open.value?.store;
  if (!store) return;
  const read = [store.view(), store.waiting(), store.sent(), store.state()] as const;
  const found = await Promise.all(read).catch((error: unknown) => {
    if (!(error instanceof Emptied)) throw error;
    notKept.value = 'emptied';
  });
  if (!found || open.value?.store !== store) return;
  const [seen, waiting, sent, state] = found;
  view.value = seen;
  const first = waiting[0] ? (JSON.parse(waiting[0].text) as { phoneTime: string }).phoneTime : '';
  const look = sent.filter(wantsLook).length;
  tally.value = { waiting: waiting.length, oldest: first, look, lastAnswer: state.lastAnswer };
}

function startPoker(store: FarmStore, known: Known): void {
  poker?.stop();
  poker = new Poker({
    listen: (heard, signal) => withToken((access) => api.poke(known.farm, access, heard, signal)),
    lock: lockFor(`poke:${known.farm}:${known.person}`),
    heard: (head) =>
      void store.state().then(({ cursor }) => (head > cursor ? syncNow(true) : undefined)),
    wait: waitFor,
    random: () => Math.random(),
  });
  if (document.visibilityState === 'visible') poker.start();
}

function startLoop(store: FarmStore, known: Known): void {
  loop?.stop();
  channel?.close();
  channel = new BroadcastChannel(`hilum-${known.farm}-${known.person}`);
  channel.onmessage = () => void refreshView();
  loop = new Loop({
    ports: {
      store,
      send: (text) =>
        withToken((access) =>
          shutOut.value ? api.handIn(access, text) : api.sync(known.farm, access, text),
        ),
      now: iso,
      newDevice: () => newId(Date.now()),
      snapshot: async () => {
        if (shutOut.value) return undefined; // what it holds goes up, and nothing comes down
        return packedAccount(() => withToken((access) => api.snapshot(known.farm, access)));
      },
    },
    lock: lockFor(`sync:${known.farm}:${known.person}`),
    ready: async () => (await accessToken(keyOf(known))) !== undefined,
    clockMS: () => performance.now(),
    random: () => Math.random(),
    later: (ms, work) => void setTimeout(work, ms),
    tell: (p) => (phase.value = p),
    changed: changedHere,
    deviceChanged: takeDevice,
  });
}

/** Told after every change of the stored data, by this tab to itself and to the others. */
export async function changedHere(): Promise<void> {
  channel?.postMessage('changed');
  await refreshView();
}

async function takeDevice(device: string): Promise<void> {
  const now = open.value;
  if (!now) return;
  const known = { ...now.known, device, former: now.known.former ?? now.known.device };
  dropToken(known); // tokens belong to a device; the session moves along with the next one
  open.value = { ...now, known };
  await registry.put(known);
}

export const syncNow = (byHand = false): Promise<void> => loop?.run(byHand) ?? Promise.resolve();

/** The device or its person was shut out: nothing comes down, what is here may still go up. */
export const shutOut = signal(false);

/** A token for the open account; undefined = a person must sign in. */
async function accessToken(of: string): Promise<string | undefined> {
  const known = open.value?.known;
  // Another account may have been opened while a request of this one was under way.
  if (!known || open.value?.alone || keyOf(known) !== of) return undefined;
  try {
    return await freshToken(known, () => arrived(known));
  } catch (error) {
    if (error instanceof NoKey) return undefined;
    if (error instanceof Refused && error.problem.code === 'handin') return ticket(known);
    if (error instanceof Refused && (error.status === 401 || error.status === 403))
      return undefined;
    throw error;
  }
}

async function ticket(known: Known): Promise<string | undefined> {
  shutOut.value = true;
  poker?.stop();
  try {
    return await ticketToken(known);
  } catch (error) {
    if (error instanceof Refused && error.status < 500) return undefined;
    throw error;
  }
}

/** The server knows the new device now; the former one is no longer named. */
async function arrived(known: Known): Promise<void> {
  if (known.former === undefined) return;
  await registry.put(asArrived(known));
  if (open.value?.known === known) open.value = { ...open.value, known: asArrived(known) };
}

/** Runs a request of the open account with a token. */
export async function withToken<T>(work: (access: string) => Promise<T>): Promise<T> {
  const of = open.value?.known ?? { farm: '', person: '' };
  return withTokenOf(of, () => accessToken(keyOf(of)), work);
}

export type Door = 'signin' | 'first-owner' | 'reset-access' | 'enrol';

/** The device id that goes on; a store that was emptied counts anew, under a new one. */
async function deviceFor(before: Known): Promise<string> {
  const store = new FarmStore(before.farm, before.person);
  const { device } = await store.state();
  await store.close();
  return device === '' ? newId(Date.now()) : device;
}

/** Name and password fit in several accounts: a person says which is meant. */
export class WhichAccount extends Error {
  constructor(readonly accounts: readonly Membership[]) {
    super('the name and password fit in several accounts');
  }
}

/** Leaves an account whose storage the browser has emptied, for the sign-in. */
export async function startAgain(): Promise<void> {
  if (open.value) dropToken(open.value.known);
  await leaveOpen();
}

/** The device ids under which this device is known, by account, to whoever signs in again. */
async function devicesOf(login: string): Promise<{ [farm: string]: string }> {
  const before = await registry.withLogin(login);
  const pairs = before.map(async (k) => [k.farm, await deviceFor(k)] as const);
  return Object.fromEntries(await Promise.all(pairs));
}

/** Signs in by one of the doors and opens that person's data on this device. */
export async function enter(door: Door, body: Record<string, string>): Promise<void> {
  const before: { [farm: string]: string } = door === 'signin' ? await devicesOf(body['login'] ?? '') : {};
  const fresh = newId(Date.now());
  const key = (await deviceKey()).public;
  const ask = { ...body, device: fresh, deviceName: deviceName(), key };
  const session = await api.signIn(door, door === 'signin' ? { ...ask, known: before } : ask);
  if ('accounts' in session) throw new WhichAccount(session.accounts);
  const { farm, person, accountName } = session;
  const device = before[farm] ?? fresh;
  holdToken({ farm, person: person.id }, session);
  const store = new FarmStore(farm, person.id);
  await store.settle({ farm, accountName, person }, device);
  const known: Known = {
    farm,
    person: person.id,
    device,
    login: person.login ?? body['login'] ?? '',
    name: person.name,
    role: person.role,
    accountName,
    lastUsed: iso(),
    signedOut: false,
  };
  await registry.put(known);
  await leaveOpen();
  shutOut.value = false;
  await openKnown(known);
  // Asked with the tap that signed in; whatever the browser says, nothing depends on it.
  void navigator.storage?.persist?.();
  void syncNow(true);
}

const deviceName = (): string => (matchMedia('(min-width: 900px)').matches ? 'Desk' : 'Phone');

export async function leaveOpen(): Promise<void> {
  loop?.stop();
  loop = undefined;
  poker?.stop();
  poker = undefined;
  forgetReports();
  const store = open.value?.store;
  open.value = undefined;
  view.value = new Map();
  phase.value = { at: 'idle' };
  await dropSight();
  await store?.close();
}

/** Takes this account off the device, once all it holds is handed in. */
export async function clearHere(): Promise<void> {
  const known = open.value?.known;
  if (!known || !shutOut.value || tally.value.waiting > 0) return;
  await leaveOpen();
  await deleteDB(farmDatabase(known.farm, known.person));
  await registry.forget(known);
  dropToken(known);
  shutOut.value = false;
}

/** Signs out. What is unsent stays on this device and goes on when the same person signs in. */
export async function signOut(): Promise<void> {
  const known = open.value?.known;
  if (!known) return;
  await registry.put({ ...known, signedOut: true });
  await leaveOpen();
  dropToken(known);
  try {
    await api.signOut(known.farm, known.device);
  } catch {
    // Offline: the cookie stays until the next sign-in replaces it; nothing opens by itself here.
  }
}

/** Opens another account of this device without closing anything for good. */
export async function change(known: Known): Promise<void> {
  const used = { ...known, lastUsed: iso() };
  await registry.put(used);
  await leaveOpen();
  shutOut.value = false;
  await openKnown(used);
  void syncNow(true);
}

export const knownHere = (): Promise<Known[]> => registry.list();

/** Wires the moments at which it is worth talking to the server. */
export function watch(): void {
  const soon = () => {
    deviceDay.value = localDay(new Date());
    if (document.visibilityState !== 'visible') return poker?.stop();
    poker?.start();
    void syncNow();
  };
  const everyMS = 60_000;
  addEventListener('online', () => void syncNow(true));
  addEventListener('offline', () => (phase.value = { at: 'offline' }));
  addEventListener('pageshow', soon);
  document.addEventListener('visibilitychange', soon);
  setInterval(soon, everyMS);
  void fillReserve();
  void syncNow(true);
}
