// Lighthouse 12 on the screens of a signed-in phone: five runs each, median of performance. Not
// part of the client's packages; fetched once into a folder of its own:
//   npm install --prefix .build/lighthouse lighthouse@12.2.3
//   node deploy/prove/hand/lighthouse.mjs [runs]
import { createRequire } from 'node:module';
import { createServer } from 'node:net';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Browser, installed, phone, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { quantile, sayLoad } from './measure.mjs';

const runs = Number(process.argv[2] ?? 5);
const goal = { performance: 95, accessibility: 100, 'best-practices': 100 };

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

async function judgePage(url, port, name) {
  const scores = Object.fromEntries(Object.keys(goal).map((id) => [id, []]));
  const short = new Set();
  for (let i = 0; i < runs; i++) {
    const flags = { port, output: 'json', logLevel: 'error', disableStorageReset: true };
    const { lhr } = await lighthouse(url, { ...flags, onlyCategories: Object.keys(goal) });
    for (const id of Object.keys(goal)) scores[id].push(percent(lhr.categories[id].score));
    for (const id of ['accessibility', 'best-practices'])
      for (const { id: audit, weight } of lhr.categories[id].auditRefs)
        if (weight > 0 && lhr.audits[audit].score === 0) short.add(audit);
    const shown = ['first-contentful-paint', 'largest-contentful-paint', 'total-blocking-time'];
    const figures = shown.map((id) => `${id} ${Math.round(lhr.audits[id].numericValue)} ms`);
    console.log(`  ${name} run ${i + 1}: ${scores.performance.at(-1)}; ${figures.join(', ')}`);
  }
  for (const [id, least] of Object.entries(goal)) {
    const found = quantile(scores[id], 0.5);
    const word = found >= least ? 'reached' : 'MISSED';
    console.log(
      `${name} ${id}: median ${found} of ${scores[id].join(' ')}, goal ${least}: ${word}`,
    );
    if (found < least) process.exitCode = 1;
  }
  if (short.size > 0) console.log(`  fell short: ${[...short].join(', ')}`);
}

const program = await (await Program.make()).start('--demo');
const port = await freePort();
const browser = await Browser.open(phone, { flags: [`--remote-debugging-port=${port}`] });
try {
  const { page } = browser;
  await page.goto(program.url);
  await page.locator('form').waitFor();
  await judgePage(`${program.url}/`, port, 'sign-in');
  await signIn(page, program.url, program.signIn('scout'));
  const link = page.getByRole('link', { name: 'Spruce Edge' });
  const field = (await link.getAttribute('href')).split('/')[2];
  await installed(page);
  await page.goto('about:blank');
  for (const [name, path] of [
    ['fields', '/'],
    ['field', `/field/${field}`],
    ['dig', `/field/${field}/dig`],
  ])
    await judgePage(program.url + path, port, name);
} finally {
  await browser.close();
  await program.stop();
}
sayLoad();
