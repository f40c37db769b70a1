// From a tap to the painted answer, to the running count, and to the disk: taps of a real dig, one
// after the other, with the processor slowed.
//   node deploy/prove/hand/taps.mjs [taps] [own]     own = main thread's time, times the slowdown
import { Browser, installed, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { judge, ownTime, sayLoad, slow, slowdown, small } from './measure.mjs';

const wanted = Number(process.argv[2] ?? 1_000);
const own = process.argv[3] === 'own';
const goals = { painted: 50, durable: 150 };

/** Notes for each tap when its answer was painted and when its transaction was on the disk. */
function watchTaps() {
  globalThis.taps = [];
  let open;
  addEventListener(
    'click',
    (event) => {
      if (!event.target.closest?.('[data-answer]')) return;
      open = { at: event.timeStamp };
      globalThis.taps.push(open);
    },
    true,
  );
  const painted = () => {
    if (!open || open.painted !== undefined || open.asked) return;
    const tap = open;
    tap.asked = true;
    requestAnimationFrame(() => {
      const channel = new MessageChannel(); // its turn comes after the frame is drawn
      channel.port1.onmessage = () => (tap.painted = performance.now() - tap.at);
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
      tx.addEventListener('complete', () => (tap.durable ??= performance.now() - tap.at));
    return tx;
  };
}

/** One bare touch, with nothing of the measuring at work in the page until it is over. */
async function ownTap(page, key, spent) {
  const overMS = 500;
  const { x, y, width, height } = await key.boundingBox();
  const before = await spent();
  await page.touchscreen.tap(x + width / 2, y + height / 2);
  await page.waitForTimeout(overMS);
  return (await spent()) - before;
}

/** Plants with nodules, thirty-nine at a spot, then the next spot: below every limit of a dig. */
async function tapAll(page, most, spent) {
  const own = [];
  const plant = ['vigorous', 'over5', 'pink', 'crownAndLateral'];
  let taps = 0;
  for (let plants = 1; taps < most; plants++) {
    for (const answer of plant) {
      const key = page.locator(`[data-answer="${answer}"]`);
      if (spent) {
        own.push(await ownTap(page, key, spent));
        taps++;
        continue;
      }
      await key.tap();
      taps++;
      await page.waitForFunction((n) => {
        const tap = globalThis.taps[n - 1];
        return tap?.painted !== undefined && tap.durable !== undefined;
      }, taps);
      await page.waitForTimeout(90); // what comes sooner is taken for a wet screen's second tap
    }
    const nextSpot = page.locator('.row button').nth(2);
    if (plants % 39 === 0) await nextSpot.tap();
  }
  return own;
}

const program = await (await Program.make()).start('--demo');
const browser = await Browser.open(small);
let taps = [];
let spent = [];
try {
  const { page } = browser;
  await signIn(page, program.url, program.signIn('scout'));
  const link = page.getByRole('link', { name: 'Spruce Edge' });
  const field = (await link.getAttribute('href')).split('/')[2];
  await installed(page);
  await browser.context.setOffline(true);
  await page.addInitScript(watchTaps);
  await page.goto(`${program.url}/field/${field}/dig`);
  await page.locator('[data-answer]').first().waitFor();
  if (!own) await slow(page);
  spent = await tapAll(page, wanted, own ? await ownTime(page) : undefined);
  taps = await page.evaluate(() => globalThis.taps);
} finally {
  await browser.close();
  await program.stop();
}
if (own) {
  const slowed = spent.map((ms) => ms * slowdown);
  judge('all work of a tap (main thread’s own time, times 4)', slowed, 0.95, goals.painted);
} else {
  const of = (name) => taps.map((tap) => tap[name]);
  judge('tap to the painted answer', of('painted'), 0.95, goals.painted);
  judge('tap to the disk', of('durable'), 0.95, goals.durable);
}
sayLoad();
