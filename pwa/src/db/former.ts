// A device that must take another id brings its entries again under new numbers. Each then names its
// first place, by which the server knows it for the same one.
import type { Mutation, Was } from '../wire.gen';
import type { Sent, SyncState, Tx } from './schema';

interface Entry {
  device: string;
  text: string;
}

/**
 * The bytes under another number. n stays first, was comes last and is never changed again: the
 * server makes the first bytes of it, letter by letter.
 */
export function moved(entry: Entry, n: number): string {
  const { was: _, ...m } = JSON.parse(entry.text) as Mutation;
  const was = firstPlace(entry);
  return JSON.stringify(was.device === '' ? { ...m, n } : { ...m, n, was });
}

function firstPlace({ device, text }: Entry): Was {
  const { n, was } = JSON.parse(text) as Mutation;
  return was ?? { device, n };
}

export async function sentElsewhere(tx: Tx, { device }: SyncState): Promise<boolean> {
  const sent = await tx.objectStore('sent').getAll();
  return sent.some((s) => s.device !== device);
}

/** Unsent work goes over to a new device id; what was answered stays where it was answered. */
export async function moveUnsent(tx: Tx, state: SyncState, device: string): Promise<void> {
  await number(tx, state, device, await unsent(tx, state));
}

/** All goes over to a new device id, in the order in which it was kept: that of the first places. */
export async function moveAll(tx: Tx, state: SyncState, device: string): Promise<void> {
  const sent = await tx.objectStore('sent').getAll();
  await tx.objectStore('sent').clear();
  const known = [...(state.formers ?? []), state.device];
  const ids = [...unnoted(sent, known), ...known];
  const entries = [...sent, ...(await unsent(tx, state))].map((entry) => {
    const { device: id, n } = firstPlace(entry);
    return { ...entry, rank: ids.indexOf(id), first: n };
  });
  entries.sort((a, b) => a.rank - b.rank || a.first - b.first);
  await number(tx, state, device, entries);
}

async function unsent(tx: Tx, { device }: SyncState): Promise<Entry[]> {
  return (await tx.objectStore('outbox').getAll()).map((text) => ({ device, text }));
}

/** Ids that an older version of this program had left without a note, by the time of their answers. */
function unnoted(sent: readonly Sent[], known: readonly string[]): string[] {
  const list = sent.filter((s) => !known.includes(s.device));
  list.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return [...new Set(list.map((s) => s.device))];
}

async function number(tx: Tx, state: SyncState, device: string, entries: Entry[]): Promise<void> {
  const outbox = tx.objectStore('outbox');
  await outbox.clear();
  let n = 1;
  for (const entry of entries) await outbox.add(moved(entry, n), n++);
  const formers = [...(state.formers ?? []), state.device];
  await tx.objectStore('sync').put({ ...state, device, formers, nextN: n }, 'state');
}
