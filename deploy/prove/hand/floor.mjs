// What an almost empty page costs by the measures beside it, on the same machine in the same run: one
// key that writes one number and one strict transaction, kept for offline by a service worker. No
// screen of a program can take less.
import { createServer } from 'node:http';

const page = `<!doctype html>
<html lang="en"><meta charset="utf-8"><title>Floor</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>
body { touch-action: manipulation; -webkit-tap-highlight-color: transparent }
button { width: 160px; height: 72px }
</style>
<p>0</p><button data-answer="floor">Tap</button>
<script type="module" src="/floor.js"></script></html>`;

const script = `
const asked = indexedDB.open('floor', 1);
asked.onupgradeneeded = () => asked.result.createObjectStore('draft');
const db = await new Promise((done) => (asked.onsuccess = () => done(asked.result)));
let n = 0;
document.querySelector('button').onclick = () => {
  document.querySelector('p').textContent = String(++n);
  const tx = db.transaction('draft', 'readwrite', { durability: 'strict' });
  tx.objectStore('draft').put({ n }, 'open');
};
const read = db.transaction('draft').objectStore('draft').get('open');
await new Promise((done) => (read.onsuccess = done));
const line = Object.assign(document.createElement('a'), { className: 'line', href: '#' });
document.body.append(line, 'A field');
await navigator.serviceWorker.register('/sw.js');`;

const worker = `
addEventListener('install', (event) =>
  event.waitUntil(caches.open('floor').then((cache) => cache.addAll(['/', '/floor.js']))));
addEventListener('activate', (event) => event.waitUntil(clients.claim()));
addEventListener('fetch', (event) =>
  event.respondWith(caches.match(event.request).then((found) => found ?? fetch(event.request))));`;

const files = new Map([
  ['/', ['text/html', page]],
  ['/floor.js', ['text/javascript', script]],
  ['/sw.js', ['text/javascript', worker]],
]);

/** Serves the page on this machine until stop is called. */
export async function serveFloor() {
  const server = createServer((request, response) => {
    const [type, text] = files.get(request.url) ?? [];
    response.writeHead(type ? 200 : 404, { 'content-type': type ?? 'text/plain' }).end(text);
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  const stop = () => {
    server.closeAllConnections();
    server.close();
  };
  return { url: `http://localhost:${server.address().port}`, stop };
}
