// A device that must take another id brings its entries again under new numbers. Each then names its
// first place, by which the server knows it for the same one.
import type { Mutation } from '../wire.gen';
import type { Sent, SyncState, Tx } from './schema';

interface Entry {
  device: string;
  text: string;
}

/**
 * The bytes under another number. n stays first, was comes last and is never changed again: the
 * server makes the first bytes of it, letter by letter.
 */
export function moved({ device, text }: Entry, n: number): string {
  const { was, ...m } = JSON.parse(text) as Mutation;
  const first = was ?? { device, n: m.n };
  return JSON.stringify(first.device === '' ? { ...m, n } : { ...m, n, was: first });
}

export async function sentElsewhere(tx: Tx, { device }: SyncState): Promise<boolean> {
  const sent = await tx.objectStore('sent').getAll();
  return sent.some((s) => s.device !== device);
}

/** Unsent work goes over to a new device id; what was answered stays where it was answered. */
export async function moveUnsent(tx: Tx, state: SyncState, device: string): Promise<void> {
  const texts = await tx.objectStore('outbox').getAll();
  const entries = texts.map((text) => ({ device: state.device, text }));
  await number(tx, { ...state, formers: [...(state.formers ?? []), state.device] }, device, entries);
}

/** All goes over to a new device id, in the order in which it was kept. */
export async function moveAll(tx: Tx, state: SyncState, device: string): Promise<void> {
  const sent = await tx.objectStore('sent').getAll();
  const texts = await tx.objectStore('outbox').getAll();
  await tx.objectStore('sent').clear();
  const unsent = texts.map((text) => ({ device: state.device, text }));
  await number(tx, { ...state, formers: [] }, device, [...inOrder(sent, state), ...unsent]);
}

/** Ids that an older version of this program left without noting them come first, by time. */
function inOrder(sent: Sent[], state: SyncState): Sent[] {
  const ids = [...(state.formers ?? []), state.device];
  const rank = (s: Sent) => ids.indexOf(s.device);
  const time = (a: Sent, b: Sent) => (rank(a) < 0 ? Date.parse(a.at) - Date.parse(b.at) : 0);
  return sent.sort((a, b) => {
    const apart = rank(a) - rank(b) || (a.device === b.device ? 0 : time(a, b));
    return apart || a.device.localeCompare(b.device) || a.n - b.n;
  });
}

async function number(tx: Tx, state: SyncState, device: string, entries: Entry[]): Promise<void> {
  const outbox = tx.objectStore('outbox');
  await outbox.clear();
  let n = 1;
  for (const entry of entries) await outbox.add(moved(entry, n), n++);
  await tx.objectStore('sync').put({ ...state, device, nextN: n }, 'state');
}
