// The offline cold start: a new browser process, no network, the processor slowed, until a field of
// the list is painted and can be tapped. The time counts from the page's own beginning. Before it, the
// same for an almost empty page.
//   node deploy/prove/hand/cold.mjs [rounds] [own]     own = main thread's time, times the slowdown
import { Browser, installed, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { serveFloor } from './floor.mjs';
import { judge, ownTime, sayLoad, sayTimes, slow, slowdown, small } from './measure.mjs';

const rounds = Number(process.argv[2] ?? 7);
const own = process.argv[3] === 'own';
const goalMS = 1_000;

/** Notes when the first field of the list has been painted. */
function watchList() {
  const seen = () => document.querySelector('a.line');
  const note = () =>
    requestAnimationFrame(() => setTimeout(() => (globalThis.usableMS = performance.now())));
  const eye = new MutationObserver(() => {
    if (!seen()) return;
    eye.disconnect();
    note();
  });
  eye.observe(document, { childList: true, subtree: true });
}

/** Starts so many times, each in a new process, and gives how long each took. */
async function startAll(browser, url) {
  const times = [];
  for (let i = 0; i < rounds; i++) {
    await browser.killAndReopen();
    await browser.context.setOffline(true);
    await browser.page.addInitScript(watchList);
    const spent = own ? await ownTime(browser.page) : await slow(browser.page);
    await browser.page.goto(url);
    // Looked for now and then: to look at every frame would slow the page that is measured.
    const usable = () => globalThis.usableMS !== undefined;
    await browser.page.waitForFunction(usable, undefined, { polling: 250 });
    const clock = await browser.page.evaluate(() => globalThis.usableMS);
    times.push(own ? slowdown * (await spent()) : clock);
  }
  return times;
}

const how = own ? ' (main thread’s own time, times 4)' : '';
const floor = await serveFloor();
const program = await (await Program.make()).start('--demo');
const browser = await Browser.open(small);
try {
  await browser.page.goto(floor.url);
  await installed(browser.page);
  floor.stop();
  await signIn(browser.page, program.url, program.signIn('scout'));
  await browser.page.getByRole('link', { name: 'Spruce Edge' }).waitFor();
  await installed(browser.page);
  await program.kill();
  sayTimes(`an empty page, offline cold start${how}`, await startAll(browser, floor.url));
  const times = await startAll(browser, program.url);
  judge(`offline cold start to a list that can be tapped${how}`, times, 0.5, goalMS);
} finally {
  await browser.close();
  await program.stop();
}
sayLoad();
