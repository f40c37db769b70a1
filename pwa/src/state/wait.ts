// Waiting: for a moment that can be called off, and for the turn among the tabs of one account.
import type { Lock } from '../sync/loop';

export const lockFor =
  (name: string): Lock =>
  async (work) => {
    if (!('locks' in navigator)) return work();
    await navigator.locks.request(name, work);
  };

export const waitFor = (ms: number, signal: AbortSignal): Promise<void> =>
  new Promise((done) => {
    const timer = setTimeout(done, ms);
    signal.addEventListener('abort', () => {
      clearTimeout(timer);
      done();
    });
  });
