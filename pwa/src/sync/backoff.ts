// How long to wait before the network is tried again.

const firstMS = 2_000;
const mostMS = 5 * 60_000;

/** Doubles with each failure, with jitter so that phones coming home do not knock all at once. */
export function waitMS(failures: number, retryAfterMS: number, random: () => number): number {
  const full = Math.min(mostMS, firstMS * 2 ** Math.max(0, failures - 1));
  return Math.max(retryAfterMS, full / 2 + (full / 2) * random());
}
