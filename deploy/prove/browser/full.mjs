// A phone whose storage is full: records go on from the reserve, or the screen says that they are
// not kept; what is there can be read; and nothing that was called kept is gone.
//
//   node deploy/prove/browser/full.mjs
//
// The profile lies on a small tmpfs in a mount namespace of its own, which needs root and unshare;
// where there is none it says so and ends with 77. Needs .build/hilum and Chromium.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, openSync, closeSync, rmSync, statfsSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { signIn, installed } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { Chromium, sleep } from './chromium.mjs';
import { atServer, onDisk } from './held.mjs';
import { Promised, plantsOf } from './promised.mjs';
import { digWith, gapMS } from './thumb.mjs';

const diskMB = 160;
const digMS = 6_000;
const mostDigMS = 60_000;
const cannotRun = 77;

/** In the page: takes all the room that the browser gives this origin, down to 4 KB at a time. */
async function takeRoom() {
  const db = await new Promise((done, failed) => {
    const asked = indexedDB.open('other-things', 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore('block', { autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  const put = (bytes) =>
    new Promise((done) => {
      const noise = new Uint8Array(bytes);
      for (let at = 0; at < bytes; at += 65_536)
        crypto.getRandomValues(noise.subarray(at, Math.min(bytes, at + 65_536)));
      const tx = db.transaction('block', 'readwrite', { durability: 'strict' });
      tx.objectStore('block').add(noise);
      tx.oncomplete = () => done(true);
      tx.onabort = () => done(false);
    });
  let taken = 0;
  for (const bytes of [1 << 20, 1 << 16, 1 << 12]) while (await put(bytes)) taken += bytes;
  db.close();
  return taken;
}

/** In the page: gives the room back, as a person does who removes other programs. */
const giveBack = () =>
  new Promise((done) => {
    const asked = indexedDB.deleteDatabase('other-things');
    asked.onsuccess = asked.onerror = () => done();
  });

/** Fills what is left of the disk from outside. */
function fillDisk(dir) {
  const file = openSync(join(dir, 'filling'), 'w');
  const block = Buffer.alloc(4096, 1);
  try {
    for (;;) writeSync(file, block);
  } catch (error) {
    assert.equal(error.code, 'ENOSPC');
  } finally {
    closeSync(file);
  }
}

const freeKB = (dir) => {
  const { bavail, bsize } = statfsSync(dir);
  return Math.round((bavail * bsize) / 1024);
};

const reserves = (page) =>
  page.evaluate(async () => (await indexedDB.databases()).some((d) => d.name === 'hilum-reserve'));

async function ready(page, url) {
  await page.goto(url);
  await page.getByRole('heading', { level: 1 }).waitFor();
}

/** Digs for a while on a full disk and tells how it went. */
async function digFull(page, promised, seed) {
  const before = { ...promised.figures };
  await digWith(page, { gapMS, seed }, (word) => promised.hear(word));
  const since = (name) => promised.figures[name] - before[name];
  for (const until = Date.now() + mostDigMS; Date.now() < until; await sleep(digMS))
    if (since('promises') + since('refused') >= 5) break;
  const [promises, closed, refused] = ['promises', 'closed', 'refused'].map(since);
  return { promises, closed, refused, reserveHeld: await reserves(page) };
}

const saysEmptied = async (page) =>
  (await page.getByText('the browser has emptied the storage').count()) > 0;

const digsAt = async (program, who) => {
  const rows = await atServer(program, who);
  return new Map(rows.filter((r) => r.kind === 'dig').map((r) => [r.id, r.body]));
};

/**
 * The browser itself threw the storage away, and the screen said so: what the farm server does not
 * have is gone. The person signs in again, and everything else comes back.
 */
async function startAgain(page, program, who, promised) {
  const read = page.getByRole('button', { name: 'I have written it down' });
  if (await read.count()) await read.click();
  await signIn(page, program.url, who);
  await page.locator('.lines a[href^="/field/"]').first().waitFor();
  const digs = await digsAt(program, who);
  const gone = [...promised.closed.keys()].filter((id) => !digs.has(id));
  for (const id of gone) promised.closed.delete(id);
  promised.open.clear();
  return gone.length;
}

async function inside(dir) {
  const program = await (await Program.make()).start('--demo');
  const browser = new Chromium(join(dir, 'profile'));
  const promised = new Promised({ mayRefuse: true });
  const told = {};
  try {
    let page = await browser.start();
    const scout = program.signIn('scout');
    await signIn(page, program.url, scout);
    await page.locator('.lines a[href^="/field/"]').first().waitFor();
    await installed(page);
    await page.waitForFunction(
      async () => (await indexedDB.databases()).some((d) => d.name === 'hilum-reserve'),
    );
    await browser.leave();

    // All the room the browser gives is taken; the disk itself has some left.
    page = await browser.start();
    await ready(page, program.url);
    told.takenMB = +((await page.evaluate(takeRoom)) / 2 ** 20).toFixed(1);
    told.quota = await digFull(page, promised, 5);
    await browser.kill();
    page = await browser.start();
    await ready(page, program.url);
    promised.check(await onDisk(page));

    // Not a byte is left on the disk.
    fillDisk(dir);
    told.freeKB = freeKB(dir);
    told.disk = await digFull(page, promised, 7);
    told.readWhileFull = (await onDisk(page)).base.length;
    await browser.kill();
    rmSync(join(dir, 'filling'));
    page = await browser.start();
    await page.goto(program.url);
    await page.getByRole('heading', { level: 1 }).waitFor();
    promised.emptied ||= await saysEmptied(page);
    if (promised.emptied) told.goneAndSaid = await startAgain(page, program, scout, promised);
    const held = await onDisk(page);
    assert.ok(held.base.length > 0, 'what was there can be read, or the screen says it is gone');
    promised.check(held);

    // Room again: everything goes to the farm server.
    await page.evaluate(giveBack);
    for (let i = 0; i < 120 && (await onDisk(page)).waiting.length > 0; i++) {
      if (await page.getByText('Sign in to send').count())
        await signIn(page, `${program.url}/sign-in`, scout);
      await sleep(500);
    }
    const digs = await digsAt(program, scout);
    for (const [id, plants] of promised.closed)
      assert.equal(plantsOf(digs.get(id) ?? { spots: [] }), plants, `the dig ${id} at the server`);
    assert.ok(!told.quota.reserveHeld || told.quota.refused === 0, 'the reserve was let go');
    assert.ok(told.quota.promises + told.quota.refused > 0, 'the screen spoke on a full disk');
    console.log(JSON.stringify({ diskMB, ...told, digsAtServer: promised.closed.size, lost: 0 }));
  } finally {
    await browser.kill().catch(() => undefined);
    await program.stop();
  }
}

if (process.argv[2] === '--inside') {
  await inside(process.argv[3]);
} else {
  const dir = mkdtempSync(join(tmpdir(), 'hilum-full-'));
  const self = `'${process.execPath}' '${import.meta.filename}' --inside '${dir}'`;
  const mounted = `mount -t tmpfs -o size=${diskMB}m tmpfs '${dir}' || exit ${cannotRun}; ${self}`;
  try {
    execFileSync('unshare', ['-m', 'true'], { stdio: 'ignore' });
  } catch {
    console.log('cannot run: no mount namespace is given here (unshare -m)');
    process.exit(cannotRun);
  }
  const { status } = spawnSync('unshare', ['-m', 'sh', '-c', mounted], { stdio: 'inherit' });
  rmSync(dir, { recursive: true, force: true });
  process.exit(status ?? 1);
}
