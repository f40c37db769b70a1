// Kills a real Chromium in the middle of digging, again and again on one profile, and looks each
// time whether all that the screen had called kept is there; at the end, whether the farm server has
// each dig once.
//
//   node deploy/prove/browser/kill.mjs [--rounds 100] [--seed 1]
//   node deploy/prove/browser/kill.mjs --planted     does it see what a careless program loses?
//
// Needs .build/hilum (deploy/build.sh makes it) and Chromium. One round takes 3 to 6 seconds.
import assert from 'node:assert/strict';
import { parseArgs } from 'node:util';
import { signIn, installed } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { Chromium, sleep } from './chromium.mjs';
import { atServer, onDisk } from './held.mjs';
import { Promised, plantsOf } from './promised.mjs';
import { digWith, gapMS } from './thumb.mjs';

const mostDelayMS = 14;
const roundMS = 60_000;

function inTime(work, else_) {
  let timer;
  const late = new Promise((_done, failed) => {
    timer = setTimeout(() => failed(new Error(else_)), roundMS);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}

/** A small generator, so that a run can be run again. */
const chanceOf = (seed) => {
  let state = seed;
  return (n) => (state = (state * 48271) % 2147483647) % n;
};

/** A planted fault, in the page: taps get to the disk 300 ms after it was said that they did. */
function writeLater() {
  const shipped = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (value, key) {
    if (this.name !== 'draft') return shipped.call(this, value, key);
    const { db } = this.transaction;
    setTimeout(() => {
      const tx = db.transaction('draft', 'readwrite');
      shipped.call(tx.objectStore('draft'), value, key);
    }, 300);
    return this.count();
  };
}

async function ready(page, url) {
  await page.goto(url);
  await page.getByRole('heading', { level: 1 }).waitFor();
}

/** One life of the browser: look, dig, die. */
async function life(browser, url, promised, chance, planted) {
  const page = await browser.start();
  if (planted) await page.addInitScript(writeLater);
  const offline = chance(3) === 0;
  if (offline) await browser.context.setOffline(true);
  await ready(page, url);
  promised.check(await onDisk(page));
  for (const [field, taps] of promised.open)
    if (taps >= 4) await page.locator(`.open-digs a[href="/field/${field}/dig"]`).waitFor();
  const fatal = chance(3) === 0 ? { did: 'done' } : { taps: 3 + chance(40) };
  const dies = new Promise((done) => {
    void digWith(page, { gapMS, seed: 1 + chance(1e6) }, (word) => {
      promised.hear(word);
      const hit = fatal.did ? word.did === fatal.did : word.taps >= fatal.taps;
      if (hit) done();
    });
  });
  await inTime(dies, 'the thumb got stuck');
  await sleep(chance(mostDelayMS * (fatal.did ? 4 : 1)));
  const writing = promised.last?.path.endsWith('/dig') && !promised.last.kept;
  await browser.kill();
  const f = promised.figures;
  f.rounds++;
  if (writing) f.midWrite++;
  if (offline) f.offline++;
}

/** Sends what waits, and signs in again where a kill took the cookie with it. */
async function settle(browser, url, who) {
  const page = await browser.start();
  await ready(page, url);
  for (let i = 0; i < 120; i++) {
    const disk = await onDisk(page);
    if (disk.waiting.length === 0) return disk;
    if (await page.getByText('Sign in to send').count()) await signIn(page, `${url}/sign-in`, who);
    await sleep(500);
  }
  return assert.fail('the outbox did not empty within a minute');
}

/** Each dig that was ever called kept stands at the server, once, with all of its plants. */
function judge(rows, promised) {
  const digs = new Map(rows.filter((r) => r.kind === 'dig').map((r) => [r.id, r.body]));
  for (const [id, plants] of promised.closed) {
    assert.ok(digs.has(id), `the dig ${id} is not at the server`);
    assert.equal(plantsOf(digs.get(id)), plants, `plants of dig ${id} at the server`);
  }
  const roots = [...digs.values()].flatMap((d) => d.spots.flatMap((s) => s.plants.map((p) => p.id)));
  assert.equal(new Set(roots).size, roots.length, 'a plant stands in two digs');
}

export async function killRounds({ rounds, seed = 1, planted = false }) {
  const program = await (await Program.make()).start('--demo');
  const browser = new Chromium();
  const chance = chanceOf(seed);
  const promised = new Promised();
  try {
    const page = await browser.start();
    const scout = program.signIn('scout');
    await signIn(page, program.url, scout);
    await page.locator('.lines a[href^="/field/"]').first().waitFor();
    await installed(page);
    await browser.leave();
    for (let i = 1; i <= rounds; i++) {
      await life(browser, program.url, promised, chance, planted);
      if (i % 10 === 0) console.error(`${i} rounds`);
    }
    promised.check(await settle(browser, program.url, scout));
    const rows = await atServer(program, scout);
    judge(rows, promised);
    return { ...promised.figures, digsAtServer: promised.closed.size };
  } finally {
    await browser.close();
    await program.stop();
  }
}

/** The harness against itself: it must see what a careless program would lose. */
async function plantedIsCaught(seed) {
  try {
    await killRounds({ rounds: 20, seed, planted: true });
  } catch (error) {
    if (!(error instanceof assert.AssertionError)) throw error;
    console.log(`caught: ${error.message.split('\n')[0]}`);
    return;
  }
  throw new Error('taps that were written too late were not missed in 20 rounds');
}

if (process.argv[1] === import.meta.filename) {
  const options = {
    rounds: { type: 'string', default: '100' },
    seed: { type: 'string', default: '1' },
    planted: { type: 'boolean', default: false },
  };
  const { values } = parseArgs({ options });
  const [rounds, seed] = [Number(values.rounds), Number(values.seed)];
  if (values.planted) {
    await plantedIsCaught(seed);
  } else {
    const began = Date.now();
    const figures = await killRounds({ rounds, seed });
    const seconds = Math.round((Date.now() - began) / 1000);
    console.log(JSON.stringify({ ...figures, lost: 0, doubled: 0, seconds }));
  }
}
