// What the measures of speed share: a slowed processor, quantiles, and the load beside them.
import { loadavg } from 'node:os';

export const slowdown = 4;
export const small = { width: 360, height: 640 };

/** Makes the page's processor slower, as DevTools does; worker threads are not slowed by it. */
export async function slow(page) {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
  return session;
}

/**
 * Counts the main thread's own processor time instead of the clock's, in ms. On a machine that
 * others work on, it says what the clock cannot; what waits for disk or other threads is not in it.
 */
export async function ownTime(page) {
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  return async () => {
    const { metrics } = await session.send('Performance.getMetrics');
    return 1_000 * metrics.find((m) => m.name === 'TaskDuration').value;
  };
}

/**
 * The next word the page says to its console after a name; `console.debug('name ...')` says it. Whoever
 * measures must not look into the page meanwhile: Playwright's first look alone sends the page a script
 * of 330 kB, which at four times slower is 160 ms of what was to be measured.
 */
export async function hear(page, name, timeout = 60_000) {
  const predicate = (said) => said.text().startsWith(`${name} `);
  const said = await page.waitForEvent('console', { predicate, timeout });
  return JSON.parse(said.text().slice(name.length + 1));
}

export function quantile(values, q) {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (sorted.length - 1) * q;
  const [low, high] = [sorted[Math.floor(at)], sorted[Math.ceil(at)]];
  return low + (high - low) * (at - Math.floor(at));
}

const ms = (v) => `${Math.round(v)} ms`;

/** Prints the spread of some times. */
export function sayTimes(what, values) {
  const spread = [0, 0.5, 0.95, 0.98, 1].map((p) => ms(quantile(values, p))).join(', ');
  console.log(`${what}: ${values.length} times: least, median, p95, p98, most = ${spread}`);
}

/** Prints whether the named quantile of some times is within its goal, and their spread. */
export function judge(what, values, q, goal) {
  const found = quantile(values, q);
  const word = found <= goal ? 'reached' : 'MISSED';
  const name = q === 0.5 ? 'median' : `p${q * 100}`;
  console.log(`${what}: ${name} ${ms(found)}, goal ${ms(goal)}: ${word}`);
  sayTimes('  spread', values);
  if (found > goal) process.exitCode = 1;
}

/** Times mean little while others work on the machine, so the load is said with them. */
export function sayLoad() {
  console.log(
    `  load of the machine (1, 5, 15 min): ${loadavg()
      .map((l) => l.toFixed(1))
      .join(', ')}`,
  );
}
