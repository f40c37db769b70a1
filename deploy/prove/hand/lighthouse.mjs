// Lighthouse 12 on a new visitor's page and on the screens of a signed-in phone: five runs each,
// every one in a browser just started, as Lighthouse's own command does it (in a used one it charges
// the start of its profiler to the page). The median of each category counts. Not part of the
// client's packages; fetched once into a folder of its own:
//   npm install --prefix .build/lighthouse lighthouse@12.2.3
//   node deploy/prove/hand/lighthouse.mjs [runs] [visitor | fields | today | field | dig ...]
import { createRequire } from 'node:module';
import { createServer } from 'node:net';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Browser, installed, phone, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { quantile, sayLoad } from './measure.mjs';

const asked = process.argv.slice(2);
const runs = Number(asked.find((word) => /^\d+$/.test(word)) ?? 5);
const only = asked.filter((word) => !/^\d+$/.test(word));
const goal = { performance: 95, accessibility: 100, 'best-practices': 100 };
const shown = {
  FCP: 'first-contentful-paint',
  LCP: 'largest-contentful-paint',
  TBT: 'total-blocking-time',
};

const folder = resolve(import.meta.dirname, '../../../.build/lighthouse/package.json');
const { default: lighthouse } = await import(
  pathToFileURL(createRequire(folder).resolve('lighthouse')).href
);

const freePort = () =>
  new Promise((done) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => done(port));
    });
  });

const percent = (score) => Math.round((score ?? 0) * 100);

/** One run of Lighthouse in a browser that has just been started; storage as this one has it. */
async function run(browser, url, { fresh }) {
  const port = await freePort();
  browser.more = [`--remote-debugging-port=${port}`];
  await browser.killAndReopen();
  const flags = { port, output: 'json', logLevel: 'error', disableStorageReset: !fresh };
  const { lhr } = await lighthouse(url, { ...flags, onlyCategories: Object.keys(goal) });
  if (lhr.runtimeError) throw new Error(`Lighthouse: ${lhr.runtimeError.message}`);
  const scores = {};
  for (const id of Object.keys(goal)) scores[id] = percent(lhr.categories[id].score);
  const short = ['accessibility', 'best-practices'].flatMap((id) =>
    lhr.categories[id].auditRefs
      .filter(({ id: audit, weight }) => weight > 0 && lhr.audits[audit].score === 0)
      .map(({ id: audit }) => audit),
  );
  const ms = Object.entries(shown).map(([name, id]) => [name, lhr.audits[id].numericValue]);
  const figures = Object.fromEntries(ms);
  figures.CLS = lhr.audits['cumulative-layout-shift'].numericValue;
  return { scores, figures, short };
}

async function judgePage(browser, url, name, how) {
  if (only.length > 0 && !only.includes(name)) return;
  const all = [];
  for (let i = 0; i < runs; i++) {
    all.push(await run(browser, url, how));
    const { scores, figures } = all.at(-1);
    const said = ['FCP', 'LCP', 'TBT'].map((id) => `${id} ${Math.round(figures[id])} ms`);
    said.push(`CLS ${figures.CLS.toFixed(3)}`);
    console.log(`  ${name} run ${i + 1}: ${scores.performance}; ${said.join(', ')}`);
  }
  const words = Object.entries(goal).map(([id, least]) => {
    const scores = all.map((one) => one.scores[id]);
    const found = quantile(scores, 0.5);
    if (found < least) process.exitCode = 1;
    return `${id} ${found} of ${scores.join(' ')} (${found < least ? 'MISSED' : 'reached'} ${least})`;
  });
  console.log(`${name}, medians: ${words.join('; ')}`);
  const short = new Set(all.flatMap((one) => one.short));
  if (short.size > 0) console.log(`  fell short: ${[...short].join(', ')}`);
}

const program = await (await Program.make()).start('--demo');
const browser = await Browser.open(phone);
try {
  await judgePage(browser, `${program.url}/`, 'visitor', { fresh: true });
  const { page } = browser;
  await signIn(page, program.url, program.signIn('scout'));
  const link = page.getByRole('link', { name: 'Spruce Edge' });
  const field = (await link.getAttribute('href')).split('/')[2];
  await installed(page);
  for (const [name, path] of [
    ['fields', '/'],
    ['today', '/today'],
    ['field', `/field/${field}`],
    ['dig', `/field/${field}/dig`],
  ])
    await judgePage(browser, program.url + path, name, { fresh: false });
} finally {
  browser.said = []; // the browser closed a page under Lighthouse: its words mean nothing here
  await browser.close();
  await program.stop();
}
sayLoad();
