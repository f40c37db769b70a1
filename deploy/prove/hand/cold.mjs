// The offline cold start: a new browser process, no network, the processor slowed, until a field of
// the list is painted and can be tapped. The time counts from the page's own beginning.
//   node deploy/prove/hand/cold.mjs [rounds] [own]     own = main thread's time, times the slowdown
import { Browser, installed, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { judge, ownTime, sayLoad, slow, slowdown, small } from './measure.mjs';

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

const program = await (await Program.make()).start('--demo');
const browser = await Browser.open(small);
const times = [];
try {
  await signIn(browser.page, program.url, program.signIn('scout'));
  await browser.page.getByRole('link', { name: 'Spruce Edge' }).waitFor();
  await installed(browser.page);
  await program.kill();
  for (let i = 0; i < rounds; i++) {
    await browser.killAndReopen();
    await browser.context.setOffline(true);
    await browser.page.addInitScript(watchList);
    const spent = own ? await ownTime(browser.page) : await slow(browser.page);
    await browser.page.goto(program.url);
    await browser.page.waitForFunction(() => globalThis.usableMS !== undefined);
    const clock = await browser.page.evaluate(() => globalThis.usableMS);
    times.push(own ? slowdown * (await spent()) : clock);
  }
} finally {
  await browser.close();
  await program.stop();
}
const how = own ? ' (main thread’s own time, times 4)' : '';
judge(`offline cold start to a list that can be tapped${how}`, times, 0.5, goalMS);
sayLoad();
