// The offline cold start: a new browser process, no network, the processor slowed, until a field of
// the list is painted and can be tapped (it is the last sight of it, and a tap is kept), and until the
// program itself has drawn it. The time counts from the page's own beginning. Before it, the same for
// an almost empty page.
//   node deploy/prove/hand/cold.mjs [rounds] [own]     own = main thread's time, times the slowdown
import { Browser, installed, seen, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { serveFloor } from './floor.mjs';
import { hear, judge, ownTime, sayLoad, sayTimes, slow, slowdown, small } from './measure.mjs';

const rounds = Number(process.argv[2] ?? 7);
const own = process.argv[3] === 'own';
const goalMS = 1_000;
const listedMS = 25_000; // Chromium writes down what its cache holds some twenty seconds later

/** Says when the first field of the list has been painted. */
function watchList() {
  const seen = () => document.querySelector('a.line');
  const note = () =>
    requestAnimationFrame(() => setTimeout(() => console.debug(`usable ${performance.now()}`)));
  const eye = new MutationObserver(() => {
    if (!seen()) return;
    eye.disconnect();
    note();
  });
  eye.observe(document, { childList: true, subtree: true });
  const marks = new PerformanceObserver((list) => {
    for (const { name, startTime } of list.getEntries()) console.debug(`${name} ${startTime}`);
  });
  marks.observe({ entryTypes: ['mark'] });
}

/** Starts so many times, each in a new process, and gives how long each took until the words. */
async function startAll(browser, url, words) {
  const times = words.map(() => []);
  for (let i = 0; i < rounds; i++) {
    await browser.killAndReopen();
    await browser.context.setOffline(true);
    await browser.page.addInitScript(watchList);
    const spent = own ? await ownTime(browser.page) : await slow(browser.page);
    const heard = words.map(async (word) => {
      const clock = await hear(browser.page, word);
      return own ? slowdown * (await spent()) : clock;
    });
    await browser.page.goto(url, { waitUntil: 'commit' });
    (await Promise.all(heard)).forEach((time, n) => times[n].push(time));
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
  await seen(browser.page, '/');
  await browser.page.waitForTimeout(listedMS);
  await program.kill();
  const [empty] = await startAll(browser, floor.url, ['usable']);
  sayTimes(`an empty page, offline cold start${how}`, empty);
  const [usable, drawn] = await startAll(browser, program.url, ['usable', 'run']);
  judge(`offline cold start to a list that can be tapped${how}`, usable, 0.5, goalMS);
  sayTimes(`  until the program has drawn it${how}`, drawn);
} finally {
  await browser.close();
  await program.stop();
}
sayLoad();
