// A piece of the disk held back, so that a full phone can still take records: it is let go when a
// write fails, and the write is tried again. A database of its own, since dropping a whole
// database gives its space back at once.
import { deleteDB, openDB } from 'idb';

const name = 'hilum-reserve';
const bytes = 5 * 1024 * 1024;
const mostRandom = 65_536; // what one call of getRandomValues gives

/** Noise, since a disk that packs what it holds would keep no room with zeros. */
function noise(): Uint8Array<ArrayBuffer> {
  const block = new Uint8Array(bytes);
  for (let at = 0; at < bytes; at += mostRandom)
    crypto.getRandomValues(block.subarray(at, at + mostRandom));
  return block;
}

const open = () =>
  openDB(name, 1, {
    upgrade: (db) => void db.createObjectStore('block'),
    blocking: (_now, _next, event) => (event.target as IDBDatabase).close(),
  });

/** Holds the reserve; where there is no room for it, there is none. */
export async function fillReserve(): Promise<void> {
  const db = await open();
  try {
    if ((await db.count('block')) === 0) await db.put('block', noise(), 'block');
  } catch {
    // The disk is short already: the next start tries again.
  } finally {
    db.close();
  }
}

/** Lets the reserve go; false when there was none. */
export async function freeReserve(): Promise<boolean> {
  try {
    const db = await open();
    const held = await db.count('block');
    db.close();
    await deleteDB(name);
    return held > 0;
  } catch {
    return false;
  }
}
