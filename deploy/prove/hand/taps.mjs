// From a tap to the painted answer, to the running count, and to the disk: taps of a real dig, one
// after the other, with the processor slowed; before them as many on an almost empty page.
//   node deploy/prove/hand/taps.mjs [taps] [own]     own = main thread's time, times the slowdown
import { Browser, installed, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { serveFloor } from './floor.mjs';
import { hear, judge, ownTime, sayLoad, sayTimes, slow, slowdown, small } from './measure.mjs';

const wanted = Number(process.argv[2] ?? 1_000);
const own = process.argv[3] === 'own';
const ghost = 100; // ms; what comes sooner is taken for a wet screen's second tap
const goals = { painted: 50, durable: 150 };

/** Notes for each tap when its answer was painted and when its transaction was on the disk. */
function watchTaps() {
  let open;
  const note = (tap, what) => {
    if (tap[what] !== undefined) return;
    tap[what] = performance.now() - tap.at;
    const { painted, durable } = tap;
    if (painted !== undefined && durable !== undefined)
      console.debug(`tap ${JSON.stringify({ painted, durable })}`);
  };
  addEventListener(
    'click',
    (event) => {
      if (!event.target.closest?.('[data-answer]')) return;
      open = { at: event.timeStamp };
    },
    true,
  );
  const painted = () => {
    if (!open || open.painted !== undefined || open.asked) return;
    const tap = open;
    tap.asked = true;
    requestAnimationFrame(() => {
      const channel = new MessageChannel(); // its turn comes after the frame is drawn
      channel.port1.onmessage = () => note(tap, 'painted');
      channel.port2.postMessage(0);
    });
  };
  const start = () =>
    new MutationObserver(painted).observe(document.documentElement, {
      childList: true,
      subtree: true,
      characterData: true,
    });
  if (document.documentElement) start();
  else addEventListener('DOMContentLoaded', start);
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (stores, mode, options) {
    const tx = begin.call(this, stores, mode, options);
    const tap = open;
    if (mode === 'readwrite' && options?.durability === 'strict' && tap)
      tx.addEventListener('complete', () => note(tap, 'durable'));
    return tx;
  };
}

/** One bare touch of a key: what it took, or with spent what it cost until nothing of it is left. */
async function touch(page, answer, spent) {
  const overMS = 500;
  const { x, y, width, height } = await page.locator(`[data-answer="${answer}"]`).boundingBox();
  const before = await spent?.();
  const heard = hear(page, 'tap');
  await page.touchscreen.tap(x + width / 2, y + height / 2);
  const tap = await heard;
  if (!spent) return tap;
  await page.waitForTimeout(overMS);
  return { ...tap, cost: (await spent()) - before };
}

/** Taps the keys in turn; after so many rounds of them, whatever belongs there. */
async function tapAll(page, keys, spent, between = async () => undefined) {
  const taps = [];
  for (let n = 1; n <= wanted; n++) {
    taps.push(await touch(page, keys[(n - 1) % keys.length], spent));
    if (spent) continue;
    if (n % keys.length === 0) await between(n / keys.length);
    await page.waitForTimeout(ghost);
  }
  return taps;
}

/** Plants with nodules, thirty-nine at a spot, then the next spot: below every limit of a dig. */
const plant = ['vigorous', 'over5', 'pink', 'crownAndLateral'];
const nextSpot = (page) => async (plants) => {
  if (plants % 39 !== 0) return;
  await page.waitForTimeout(ghost);
  await page.locator('.row button').nth(2).tap();
};

/** Calls tell with what each tap took, part by part. */
function sayAll(taps, tell) {
  const of = (name, times = 1) => taps.map((tap) => tap[name] * times);
  if (own)
    return tell('all work of a tap (main thread’s own time, times 4)', of('cost', slowdown), goals.painted);
  tell('tap to the painted answer', of('painted'), goals.painted);
  tell('tap to the disk', of('durable'), goals.durable);
}

const floor = await serveFloor();
const program = await (await Program.make()).start('--demo');
const browser = await Browser.open(small);
try {
  const { page } = browser;
  await page.addInitScript(watchTaps);
  await page.goto(floor.url);
  await page.locator('a.line').waitFor({ state: 'attached' });
  const spent = own ? await ownTime(page) : undefined;
  const session = own ? undefined : await slow(page);
  sayAll(await tapAll(page, ['floor'], spent), (what, ms) => sayTimes(`an empty page, ${what}`, ms));
  await session?.detach();
  await signIn(page, program.url, program.signIn('scout'));
  const link = page.getByRole('link', { name: 'Spruce Edge' });
  const field = (await link.getAttribute('href')).split('/')[2];
  await installed(page);
  await browser.context.setOffline(true);
  await page.goto(`${program.url}/field/${field}/dig`);
  await page.locator('[data-answer]').first().waitFor();
  if (!own) await slow(page);
  const spentHere = own ? await ownTime(page) : undefined;
  const found = await tapAll(page, plant, spentHere, nextSpot(page));
  sayAll(found, (what, ms, goal) => judge(what, ms, 0.95, goal));
} finally {
  await browser.close();
  await program.stop();
  floor.stop();
}
sayLoad();
