// The start of a phone that has been used: the last sight of the list stands in the page before the
// program runs; a tap on it is kept; nobody sees it after the person has signed out.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, installed, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';

let program;
let browser;

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(phone);
  await signIn(browser.page, program.url, program.signIn('scout'));
  await browser.page.getByRole('link', { name: 'Long Draw' }).waitFor();
  await installed(browser.page);
  await browser.page.waitForFunction(async () => (await caches.open('sights')).match('/'));
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

/** What stood in the page before the program ran; with a name, its link is touched right then. */
async function startAgain(path, touched) {
  await browser.killAndReopen();
  const { page } = browser;
  await page.addInitScript((name) => {
    addEventListener('DOMContentLoaded', () => {
      const app = document.getElementById('app');
      globalThis.seen = { words: app.textContent, state: app.querySelector('.state')?.textContent };
      const links = [...app.querySelectorAll('a')];
      if (name) links.find((a) => a.textContent.includes(name))?.click();
    });
  }, touched);
  await page.goto(program.url + path);
  await page.locator('#app h1').waitFor();
  return page.evaluate(() => globalThis.seen);
}

test('the list is there before the program, without a word on where the work is', async () => {
  const seen = await startAgain('/');
  assert.match(seen.words, /Long Draw/);
  assert.equal(seen.state, '');
  await browser.page.locator('.state-main').waitFor(); // the program is there
  await browser.page.locator('a.line').filter({ hasText: 'Long Draw' }).waitFor();
});

test('a tap before the program opens the field once it is there', async () => {
  await startAgain('/', 'Long Draw');
  await browser.page.getByRole('heading', { level: 1, name: 'Long Draw' }).waitFor();
  await browser.page.goBack();
  await browser.page.getByRole('heading', { level: 1, name: 'Fields' }).waitFor();
});

test('the walk of the day is there as it was, and stays until the program has its order', async () => {
  const { page } = browser;
  await page.goto(`${program.url}/today`);
  await page.waitForFunction(async () => (await caches.open('sights')).match('/today'));
  const seen = await startAgain('/start');
  assert.match(seen.words, /Today.*Railbed/s);
  await page.locator('.state-main').waitFor();
  assert.equal(new URL(page.url()).pathname, '/today');
  assert.equal(await page.locator('.turn').count() > 0, true, 'placed with the first drawing');
});

test('another screen begins empty', async () => {
  const seen = await startAgain('/settings');
  assert.equal(seen.words.trim(), '');
});

test('after signing out there is nothing to see', async () => {
  const { page } = browser;
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.getByRole('button', { name: 'Sign out now' }).click();
  await page.getByLabel('Sign-in name').waitFor();
  const seen = await startAgain('/');
  assert.equal(seen.words.trim(), '');
});
