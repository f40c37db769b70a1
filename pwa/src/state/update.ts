// A new version waits until a person takes it, and is offered only while no dig is open.
import { signal } from '@preact/signals';
import { scriptURL } from '../trust';

export const waitingVersion = signal<ServiceWorker | undefined>(undefined);

/** Resolves when the page is loaded and has nothing to do: the first screen goes first. */
async function rested(): Promise<void> {
  const latestMS = 3_000;
  if (document.readyState !== 'complete')
    await new Promise((done) => addEventListener('load', done, { once: true }));
  await new Promise<void>((done) => {
    if ('requestIdleCallback' in window) requestIdleCallback(() => done(), { timeout: latestMS });
    else setTimeout(done, latestMS / 2);
  });
}

/** Registers the worker that keeps the program on this device, and watches for a newer one. */
export async function keepProgram(): Promise<void> {
  if (!('serviceWorker' in navigator)) return;
  await rested();
  const options = { updateViaCache: 'none' } as const;
  const registration = await navigator.serviceWorker.register(scriptURL('/sw.js'), options);
  const offer = (worker: ServiceWorker | null) => {
    if (worker && navigator.serviceWorker.controller) waitingVersion.value = worker;
  };
  offer(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const installing = registration.installing;
    installing?.addEventListener('statechange', () => {
      if (installing.state === 'installed') offer(installing);
    });
  });
  // A look for a newer version offline fails; the next one will do.
  const look = () => void registration.update().catch(() => undefined);
  addEventListener('pageshow', look);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') look();
  });
}

/** Takes the new version: its worker takes over, then the page loads again. */
export function takeNewVersion(): void {
  const worker = waitingVersion.value;
  if (!worker) return;
  const reload = () => location.reload();
  navigator.serviceWorker.addEventListener('controllerchange', reload, { once: true });
  worker.postMessage('take over');
  const fallbackMS = 3_000; // some browsers never fire controllerchange
  setTimeout(reload, fallbackMS);
}
