// A real new build over a real old one, with work unsent and a dig open: it is offered, not forced;
// nothing is lost; and what was kept under the old build arrives from the new one, once.
//
//   node deploy/prove/browser/update.mjs
//
// Needs .build/hilum as the old build; the new one is made from a copy of the sources with one line
// more, so that its files have other hashes.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { Browser, installed, phone, signIn, until } from '../../../pwa/tests/browser.mjs';
import { Digger } from '../../../pwa/tests/journeys/dig.mjs';
import { Program } from '../../../pwa/tests/server.mjs';
import { atServer, onDisk } from './held.mjs';

const root = resolve(import.meta.dirname, '../../..');
const left = /node_modules|\/site\/app|\/\.git|\/\.build|\/\.data/;

/** Builds the program from a copy of the sources that differs by one line of the client. */
function buildNext(dir) {
  for (const part of ['server', 'internal', 'db', 'pwa', 'go.mod', 'go.sum']) {
    const filter = (from) => !left.test(from.slice(root.length));
    cpSync(join(root, part), join(dir, part), { recursive: true, filter });
  }
  symlinkSync(join(root, 'pwa/node_modules'), join(dir, 'pwa/node_modules'));
  appendFileSync(join(dir, 'pwa/src/main.tsx'), "\ndocument.body.dataset['build'] = 'next';\n");
  const run = (command, args, cwd) => execFileSync(command, args, { cwd, stdio: 'pipe' });
  run('npx', ['vite', 'build'], join(dir, 'pwa'));
  run('node', ['build/worker.mjs'], join(dir, 'pwa'));
  const binary = join(dir, 'hilum');
  run('go', ['build', '-trimpath', '-buildvcs=false', '-o', binary, './server'], dir);
  return binary;
}

const buildOf = (page) => page.evaluate(() => document.body.dataset['build'] ?? 'old');

async function digAndLeaveOpen(page) {
  const digger = new Digger(page);
  const lines = page.locator('.lines a[href^="/field/"]');
  await lines.nth(0).click();
  await digger.press('Dig roots here');
  await digger.spot('good', 'poor', 'good');
  await digger.press('Finish');
  await digger.press('Done');
  await page.getByText(/to send/).first().waitFor();
  await page.getByRole('link', { name: 'To the next field' }).click();
  await page.getByRole('link', { name: 'Fields', exact: true }).click();
  await lines.nth(2).click(); // the second one is under a re-entry interval
  await digger.press('Dig roots here');
  await digger.spot('good', 'bare');
}

async function run(dir) {
  const began = Date.now();
  const next = buildNext(dir);
  const built = Math.round((Date.now() - began) / 1000);
  const program = await (await Program.make()).start('--demo');
  const browser = await Browser.open(phone);
  const { page } = browser;
  page.setDefaultTimeout(90_000);
  try {
    const scout = program.signIn('scout');
    await signIn(page, program.url, scout);
    await page.locator('.lines a[href^="/field/"]').first().waitFor();
    await installed(page);
    await page.route('**/sync', (route) => route.abort());
    await digAndLeaveOpen(page);
    const before = await onDisk(page);
    assert.equal(before.drafts.length, 1);
    assert.ok(before.waiting.length > 0);

    await program.kill();
    await program.start('--demo', { binary: next });
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    await until(page, async () => (await navigator.serviceWorker.ready).waiting !== null);
    assert.equal(await page.getByText('A new version is ready').count(), 0, 'not while digging');
    assert.equal(await buildOf(page), 'old', 'not forced');
    await page.getByRole('link', { name: /^←/ }).click();
    await page.getByRole('link', { name: /Fields|←/ }).first().click();
    const resume = page.getByText(/Go on in .* \(2 plants\)/);
    await resume.waitFor();
    assert.equal(await page.getByText('A new version is ready').count(), 0, 'a dig is open');
    await resume.click();
    const digger = new Digger(page);
    await digger.press('Finish');
    await digger.press('Done');
    await page.getByRole('link', { name: 'To the next field' }).click();
    await page.getByText('A new version is ready').waitFor();
    const closed = await onDisk(page);
    assert.equal(await buildOf(page), 'old', 'offered, not forced');
    const loaded = page.waitForEvent('load');
    await page.getByRole('button', { name: 'Take it' }).click();
    await loaded;
    await page.waitForFunction(() => document.body.dataset['build'] === 'next');
    const after = await onDisk(page);
    assert.deepEqual(after.waiting, closed.waiting, 'the outbox, byte for byte');

    await page.unroute('**/sync');
    await page.goto(`${program.url}/hand-in`);
    await page.getByRole('button', { name: 'Send now' }).click();
    await page.waitForFunction(() => !/to send/.test(document.body.textContent));
    const digs = closed.waiting.filter((m) => m.kind === 'dig').map((m) => m.rec);
    assert.equal(digs.length, 2);
    const rows = await atServer(program, scout);
    for (const dig of digs)
      assert.equal(rows.filter((r) => r.id === dig).length, 1, 'the dig is at the server, once');
    console.log(JSON.stringify({ built, waiting: closed.waiting.length, lost: 0, doubled: 0 }));
  } finally {
    await browser.close();
    await program.stop();
  }
}

const dir = mkdtempSync(join(tmpdir(), 'hilum-next-'));
try {
  await run(dir);
} finally {
  rmSync(dir, { recursive: true, force: true });
}
