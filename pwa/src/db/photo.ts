// The bytes of photos until the farm server has them, apart from the records: photos are large,
// and a database of their own can never hold a record up.
import { openDB, type DBSchema } from 'idb';
import { Handle } from './handle';

export interface Picture {
  sha256: string;
  /** An ArrayBuffer and not a Blob: some browsers lose blobs that lie in IndexedDB. */
  bytes: ArrayBuffer;
  takenAt: string;
  /** Why the server will never take these bytes; empty while it may. */
  refused: string;
}

interface Schema extends DBSchema {
  picture: { key: string; value: Picture };
}

const strict = { durability: 'strict' } as const;

export class PhotoStore {
  private readonly handle: Handle<Schema>;

  constructor(farm: string, person: string) {
    this.handle = new Handle<Schema>((onClosed) =>
      openDB<Schema>(`hilum-photo-${farm}-${person}`, 1, {
        upgrade: (db) => void db.createObjectStore('picture', { keyPath: 'sha256' }),
        blocking: (_now, _next, event) => (event.target as IDBDatabase).close(),
        terminated: onClosed,
      }),
    );
  }

  async put(picture: Picture): Promise<void> {
    await this.handle.use(async (db) => {
      const tx = db.transaction('picture', 'readwrite', strict);
      await tx.store.put(picture);
      await tx.done;
    });
  }

  async drop(sha256: string): Promise<void> {
    await this.handle.use((db) => db.delete('picture', sha256));
  }

  get(sha256: string): Promise<Picture | undefined> {
    return this.handle.use((db) => db.get('picture', sha256));
  }

  /** What is held, by hash, without the bytes. */
  names(): Promise<string[]> {
    return this.handle.use((db) => db.getAllKeys('picture'));
  }

  /** Those that will never be taken. One at a time: all bytes at once could fill the memory. */
  refused(): Promise<Picture[]> {
    return this.handle.use(async (db) => {
      const found: Picture[] = [];
      let cursor = await db.transaction('picture').store.openCursor();
      for (; cursor; cursor = await cursor.continue())
        if (cursor.value.refused !== '') found.push(cursor.value);
      return found;
    });
  }

  close(): Promise<void> {
    return this.handle.close();
  }
}
