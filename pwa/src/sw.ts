/// <reference lib="webworker" />
// Keeps the whole program on the device, so that it opens with no network. A new version waits
// until the page says that no dig is open: nothing reloads under a person's thumb.
import {
  cleanupOutdatedCaches,
  createHandlerBoundToURL,
  precacheAndRoute,
} from 'workbox-precaching';
import { NavigationRoute, registerRoute } from 'workbox-routing';
import { localDay } from './day';
import { sights, withSight, type Sight } from './sight';

declare const self: ServiceWorkerGlobalScope & {
  __WB_MANIFEST: { url: string; revision: string | null }[];
};

cleanupOutdatedCaches();
precacheAndRoute(self.__WB_MANIFEST, { directoryIndex: '' }); // the page has a route of its own
const page = createHandlerBoundToURL('/index.html');

/** The page for an address, with the last sight of its screen in it where there is one. */
async function pageWithSight(options: Parameters<typeof page>[0]): Promise<Response> {
  const [bare, kept] = await Promise.all([
    page(options),
    caches.match(options.url.pathname, { cacheName: sights }).catch(() => undefined),
  ]);
  if (!kept) return bare;
  const headers = new Headers(bare.headers);
  for (const ofBytes of ['content-encoding', 'content-length', 'etag']) headers.delete(ofBytes);
  const text = withSight(await bare.text(), (await kept.json()) as Sight, localDay(new Date()));
  return new Response(text, { headers });
}
registerRoute(new NavigationRoute(pageWithSight, { denylist: [/^\/api\//] }));

self.addEventListener('message', (event) => {
  if (event.data === 'take over') void self.skipWaiting();
});
self.addEventListener('activate', (event) => {
  event.waitUntil(self.clients.claim());
});
