// The small database that knows which accounts and persons this device holds work for.
import { openDB } from 'idb';
import { Handle } from './handle';
import type { Known, RegistrySchema } from './schema';

const open = (onClosed: () => void) =>
  openDB<RegistrySchema>('hilum', 1, {
    upgrade: (db) => {
      db.createObjectStore('known', { keyPath: ['farm', 'person'] });
    },
    blocking: (_now, _next, event) => (event.target as IDBDatabase).close(),
    terminated: onClosed,
  });

export class Registry {
  private readonly handle = new Handle<RegistrySchema>(open);

  list(): Promise<Known[]> {
    return this.handle.use(async (db) => {
      const all = await db.getAll('known');
      const at = (k: Known) => Date.parse(k.lastUsed);
      return all.sort((a, b) => at(b) - at(a));
    });
  }

  async put(known: Known): Promise<void> {
    await this.handle.use(async (db) => {
      const tx = db.transaction('known', 'readwrite', { durability: 'strict' });
      await tx.store.put(known);
      await tx.done;
    });
  }

  /** Only after the account's database has gone. */
  async forget(known: Known): Promise<void> {
    await this.handle.use((db) => db.delete('known', [known.farm, known.person]));
  }

  /** The account that opens by itself: the one used last, unless its person has signed out. */
  async last(): Promise<Known | undefined> {
    const [first] = await this.list();
    return first?.signedOut ? undefined : first;
  }

  /** One person may be in several accounts under one name. */
  async withLogin(login: string): Promise<Known[]> {
    const name = login.trim().toLowerCase();
    return (await this.list()).filter((k) => name !== '' && k.login.toLowerCase() === name);
  }
}
