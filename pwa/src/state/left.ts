// What people who signed out have left on this device. It goes on only when they sign in again: until
// then nobody else is told that the phone can be put away.
import { FarmStore } from '../db/farm';
import { PhotoStore } from '../db/photo';
import type { Known } from '../db/schema';
import { draftKey, isBlank, type DigDraft } from '../dig/draft';
import { keyOf, registry } from './access';
import { open } from './session';

export interface Left {
  known: Known;
  /** Entries, open digs and photos that are only here. */
  pieces: number;
}

async function piecesOf({ farm, person }: Known): Promise<number> {
  const [store, photos] = [new FarmStore(farm, person), new PhotoStore(farm, person)];
  try {
    const [waiting, drafts, held] = await Promise.all([
      store.waiting(),
      store.drafts(draftKey('')),
      photos.names(),
    ]);
    const digs = (drafts as DigDraft[]).filter((d) => !isBlank(d));
    return waiting.length + digs.length + held.length;
  } catch {
    return 0; // emptied by its browser: nothing is left to wait for
  } finally {
    await Promise.all([store.close(), photos.close()]);
  }
}

/** Those who hold something here, but for who is signed in. */
export async function leftHere(): Promise<Left[]> {
  const here = open.peek();
  if (!here || here.alone) return [];
  const out = (await registry.list()).filter((k) => k.signedOut && keyOf(k) !== keyOf(here.known));
  const all = await Promise.all(out.map(async (known) => ({ known, pieces: await piecesOf(known) })));
  return all.filter(({ pieces }) => pieces > 0);
}
