// The shipped client's store, loop and requests in a page without screens, for the measurement.
import { FarmStore, type Edit } from '../../../pwa/src/db/farm';
import { Api, Refused, Unreachable } from '../../../pwa/src/net/api';
import { round, type Ports } from '../../../pwa/src/sync/round';
import { unpack } from '../../../pwa/src/sync/snapshot';

interface Who {
  farm: string;
  access: string;
  device: string;
}

/** Where the time of a sync went, by the name of the step; they follow one another. */
const parts: Record<string, number> = {};

function timed<A extends unknown[], T>(name: string, work: (...args: A) => Promise<T>) {
  return async (...args: A): Promise<T> => {
    const began = performance.now();
    const result = await work(...args);
    parts[name] = Math.round((parts[name] ?? 0) + performance.now() - began);
    return result;
  };
}

let phone: { store: FarmStore; ports: Ports } | undefined;

async function open(who: Who): Promise<void> {
  const store = new FarmStore(who.farm, who.device);
  store.start = timed('start', store.start.bind(store));
  store.absorb = timed('absorb', store.absorb.bind(store));
  store.view = timed('view', store.view.bind(store));
  const packed = timed('snapshot', () => api.snapshot(who.farm, who.access));
  const unpacked = timed('unpack', async (text: string) => unpack(text));
  const api = new Api((url, init) => fetch(url, init));
  const person = { id: who.device, name: 'A phone', role: 'owner' };
  await store.settle({ farm: who.farm, accountName: 'An account', person }, who.device);
  const ports: Ports = {
    store,
    send: timed('send', (text: string) => api.sync(who.farm, who.access, text)),
    now: () => new Date().toISOString(),
    newDevice: () => crypto.randomUUID(),
    snapshot: async () => unpacked(await packed()),
    progress: () => undefined,
  };
  phone = { store, ports };
}

/** One round; one that broke off is done again, as the loop does. */
async function more(): Promise<boolean> {
  if (!phone) return false;
  try {
    return (await round(phone.ports)).more;
  } catch (error) {
    const busy = error instanceof Refused && error.status >= 500;
    if (!busy && !(error instanceof Unreachable)) throw error;
    parts['again'] = (parts['again'] ?? 0) + 1;
    await new Promise((done) => setTimeout(done, 1000));
    return true;
  }
}

/** One sync until there is nothing left, then the view that the screens read. */
async function sync(): Promise<{ ms: number; records: number; parts: object }> {
  if (!phone) throw new Error('the phone is not open');
  for (const name of Object.keys(parts)) delete parts[name];
  const began = performance.now();
  while (await more());
  const records = (await phone.store.view()).size;
  return { ms: performance.now() - began, records, parts };
}

async function keep(edits: Edit[]): Promise<number> {
  const began = performance.now();
  await phone?.store.keep(edits, new Date().toISOString());
  return performance.now() - began;
}

Object.assign(globalThis, { bench: { open, sync, keep } });
