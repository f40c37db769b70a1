// The way from a screen to the disk. A screen may say "kept" only when this has returned true.
import { signal } from '@preact/signals';
import { Emptied, type Edit } from '../db/farm';
import { isFull } from '../db/handle';
import { freeReserve } from '../db/reserve';
import { changedHere, open, syncNow } from './session';
import { notKept, type Trouble } from './trouble';

/** When the last write of this visit was durable; empty before the first and after a failure. */
export const keptAt = signal('');

/** Writes under way. While there is one, what the screen shows may not be on the disk yet. */
export const keeping = signal(0);

/** The reserve had to be let go: it is kept, but space must be made before the next time. */
export const spaceShort = signal(false);

/** Runs a write; on a full disk once more with the reserve let go. */
async function withReserve(work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (!isFull(error) || !(await freeReserve())) throw error;
    await work();
    spaceShort.value = true;
  }
}

function whyNot(error: unknown): Trouble {
  if (error instanceof Emptied) return 'emptied';
  return isFull(error) ? 'full' : 'failed';
}

export async function guarded(work: () => Promise<void>): Promise<boolean> {
  keeping.value++;
  try {
    await withReserve(work);
    keptAt.value = new Date().toISOString();
    return true;
  } catch (error) {
    keptAt.value = '';
    notKept.value = whyNot(error);
    return false;
  } finally {
    keeping.value--;
  }
}

/** Keeps edits on this device, then lets the courier know. */
export async function keep(edits: readonly Edit[], dropDraft?: string): Promise<boolean> {
  const store = open.value?.store;
  if (!store) return false;
  const done = await guarded(() => store.keep(edits, new Date().toISOString(), dropDraft));
  if (done) {
    await changedHere();
    void syncNow(true);
  }
  return done;
}
