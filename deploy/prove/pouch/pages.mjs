// What runs in the browser for the peer and for the floor; ours is ours.ts.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);

export const pouch = () => readFileSync(require.resolve('pouchdb/dist/pouchdb.min.js'), 'utf8');

/** In the page: the peer's phone. */
export function peerPage() {
  const local = new globalThis.PouchDB('phone', { auto_compaction: true });
  const remote = new globalThis.PouchDB(`${location.origin}/db/farm`);
  const timed = async (work) => {
    const began = performance.now();
    try {
      await work();
    } catch (error) {
      // The peer's errors carry no message of their own, and none of the rest crosses to Node.
      throw new Error(`the peer failed: ${JSON.stringify(error)} ${String(error)}`);
    }
    const ms = performance.now() - began;
    return { ms, records: (await local.info()).doc_count };
  };
  globalThis.bench = {
    pull: (options) => timed(() => local.replicate.from(remote, options)),
    push: (options) => timed(() => local.replicate.to(remote, options)),
    both: (options) =>
      timed(async () => {
        await local.replicate.to(remote, options);
        await local.replicate.from(remote, options);
      }),
    keep: (docs) => local.bulkDocs(docs),
  };
}

/** In the page: one file in, parsed, on the disk in pages, and by id in memory. */
export function floorPage() {
  const open = new Promise((done, failed) => {
    const asked = indexedDB.open('floor', 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore('page');
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  const stored = (db, rows) =>
    new Promise((done, failed) => {
      const tx = db.transaction('page', 'readwrite', { durability: 'strict' });
      for (let at = 0; at < rows.length; at += 200)
        tx.objectStore('page').put(rows.slice(at, at + 200), at);
      tx.oncomplete = done;
      tx.onabort = () => failed(tx.error);
    });
  globalThis.bench = {
    pull: async (file) => {
      const db = await open;
      const began = performance.now();
      const rows = await (await fetch(`/${file}`, { cache: 'no-store' })).json();
      await stored(db, rows);
      const view = new Map(rows.map((row) => [row._id, row]));
      return { ms: performance.now() - began, records: view.size };
    },
    push: async (docs) => {
      const began = performance.now();
      const packing = new Blob([JSON.stringify(docs)]).stream();
      const body = await new Response(packing.pipeThrough(new CompressionStream('gzip'))).blob();
      await (await fetch('/push', { method: 'POST', body })).json();
      return { ms: performance.now() - began, records: docs.length };
    },
  };
}
