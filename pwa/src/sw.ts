/// <reference lib="webworker" />
// Keeps the whole program on the device, so that it opens with no network. A new version waits
// until the page says that no dig is open: nothing reloads under a person's thumb.
import {
  cleanupOutdatedCaches,
  createHandlerBoundToURL,
  precacheAndRoute,
} from 'workbox-precaching';
import { NavigationRoute, registerRoute } from 'workbox-routing';

declare const self: ServiceWorkerGlobalScope & {
  __WB_MANIFEST: { url: string; revision: string | null }[];
};

cleanupOutdatedCaches();
precacheAndRoute(self.__WB_MANIFEST);
const page = createHandlerBoundToURL('/index.html');
registerRoute(new NavigationRoute(page, { denylist: [/^\/api\//] }));

self.addEventListener('message', (event) => {
  if (event.data === 'take over') void self.skipWaiting();
});
self.addEventListener('activate', (event) => {
  event.waitUntil(self.clients.claim());
});
