// The start of a phone that has been used: the last sight of the list stands in the page before the
// program runs; a tap on it is kept; nobody sees it after the person has signed out. The browser lives
// on: Chromium writes down what its cache holds some twenty seconds later, and killed before that it
// starts without a sight.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, installed, phone, seen, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';

let program;
let browser;
let page;

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(phone);
  page = browser.page;
  await signIn(page, program.url, program.signIn('scout'));
  await page.getByRole('link', { name: 'Long Draw' }).waitFor();
  await installed(page);
  await seen(page, '/');
  await page.addInitScript(look);
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

/** Notes what stands in the page before the program runs, and touches the link that was asked for. */
function look() {
  addEventListener('DOMContentLoaded', () => {
    const app = document.getElementById('app');
    globalThis.stood = { words: app.textContent, state: app.querySelector('.state')?.textContent };
    const links = [...app.querySelectorAll('a, button')];
    if (window.name) links.find((a) => a.textContent.includes(window.name))?.click();
  });
}

/** What stood in the page before the program ran; with a name, its link is touched right then. */
async function startAgain(path, touched = '') {
  await page.evaluate((name) => (window.name = name), touched);
  await page.goto(program.url + path);
  await page.locator('#app h1').waitFor();
  return page.evaluate(() => globalThis.stood);
}

test('the list is there before the program, without a word on where the work is', async () => {
  const stood = await startAgain('/');
  assert.match(stood.words, /Long Draw/);
  assert.equal(stood.state, '');
  await page.locator('.state-main').waitFor(); // the program is there
  await page.locator('a.line').filter({ hasText: 'Long Draw' }).waitFor();
});

test('a tap before the program opens the field once it is there', async () => {
  await startAgain('/', 'Long Draw');
  await page.getByRole('heading', { level: 1, name: 'Long Draw' }).waitFor();
  await page.goBack();
  await page.getByRole('heading', { level: 1, name: 'Fields' }).waitFor();
});

test('the walk of the day is there as it was, and stays until the program has its order', async () => {
  await page.goto(`${program.url}/today`);
  await seen(page, '/start');
  const stood = await startAgain('/start');
  assert.match(stood.words, /Today.*Railbed/s);
  await page.locator('.state-main').waitFor();
  assert.equal(new URL(page.url()).pathname, '/today');
  assert.equal(await page.locator('.turn').count() > 0, true, 'placed with the first drawing');
});

test('a button touched before the program is pressed once it is there', async () => {
  await startAgain('/today', 'All');
  await page.locator('.picks [aria-pressed="true"], .picks [aria-checked="true"]').getByText(/^All/).waitFor();
});

test('another screen begins empty', async () => {
  const stood = await startAgain('/settings');
  assert.equal(stood.words.trim(), '');
});

test('after signing out there is nothing to see', async () => {
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.getByRole('button', { name: 'Sign out now' }).click();
  await page.getByLabel('Sign-in name').waitFor();
  const stood = await startAgain('/');
  assert.equal(stood.words.trim(), '');
});
