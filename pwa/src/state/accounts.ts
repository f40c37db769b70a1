// The accounts that this device holds side by side: a database, a device id and a session each.
import { signal } from '@preact/signals';
import type { Known } from '../db/schema';
import { change, knownHere } from './session';

const list = signal<readonly Known[]>([]);

export const accounts = {
  list,
  load: async (): Promise<void> => {
    list.value = await knownHere();
  },
};

/** Opens another account. What is unsent in this one stays, and goes up when it is open again. */
export async function openAccount(known: Known): Promise<void> {
  await change(known);
  await accounts.load();
}
