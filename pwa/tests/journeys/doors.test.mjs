// Coming and going: the first owner of an empty database by the one-time link; a scout who signs
// out with unsent work and finds it again.
import assert from 'node:assert/strict';
import { after, before, describe, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

describe('an empty database', () => {
  let program;
  let browser;
  before(async () => {
    program = await (await Program.make()).start();
    browser = await Browser.open(desk);
  });
  after(async () => {
    await browser?.close();
    await program?.stop();
  });

  test('the one-time link makes the account and its owner, once', async () => {
    const { page } = browser;
    await page.goto(program.firstOwnerLink());
    await page.getByLabel('Name of the account').fill('Quill Lake Agronomy');
    await page.getByLabel('Your name').fill('Runa Sedge');
    await page.getByLabel('Sign-in name').fill('runa');
    await page.getByLabel('Password').fill('short');
    await page.getByLabel('Time zone').fill('America/Regina');
    await page.getByRole('button', { name: 'Make the account' }).click();
    assert.match(await page.getByRole('alert').innerText(), /password.*15/i);
    await assertAccessible(page, 'the first owner’s form');
    await page.getByLabel('Password').fill('pod-and-tendril-and-root');
    await page.getByRole('button', { name: 'Make the account' }).click();
    await page.getByRole('heading', { level: 1, name: /Fields/ }).waitFor();
    await page.getByText('There are no fields yet.').waitFor();
    await page.getByRole('link', { name: 'Account' }).click();
    await page.getByLabel('Name of the account').waitFor();
    assert.equal(await page.getByLabel('Time zone').inputValue(), 'America/Regina');
  });

  test('the link does not work a second time', async () => {
    const other = await Browser.open(desk);
    await other.page.goto(program.firstOwnerLink());
    for (const [label, text] of [
      ['Name of the account', 'X'],
      ['Your name', 'X'],
      ['Sign-in name', 'xavier'],
      ['Password', 'another-long-password'],
    ]) {
      await other.page.getByLabel(label).fill(text);
    }
    await other.page.getByRole('button', { name: 'Make the account' }).click();
    await other.page.getByRole('alert').waitFor();
    await other.close();
  });
});

describe('a scout with unsent work', () => {
  let program;
  let browser;
  before(async () => {
    program = await (await Program.make()).start('--demo');
    browser = await Browser.open(phone);
  });
  after(async () => {
    await browser?.close();
    await program?.stop();
  });

  test('signing out keeps it, says so, and signing in goes on with it', async () => {
    const { page } = browser;
    const scout = program.signIn('scout');
    await signIn(page, program.url, scout);
    await page.getByRole('link', { name: 'Dusty Forty' }).waitFor();
    await installed(page);
    await browser.context.setOffline(true);
    await page.getByRole('link', { name: 'Dusty Forty' }).click();
    const digger = new Digger(page);
    await digger.press('Dig roots here');
    await digger.spot('good', 'bare');
    await digger.press('Finish');
    await digger.press('Done');
    await page.getByText('1 to send').waitFor();
    await page.goto(`${program.url}/settings`);
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByText('1 entry is only on this phone. It stays here').waitFor();
    await page.getByRole('button', { name: 'Sign out now' }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    await page.getByText('On this phone:').waitFor();
    assert.equal(await page.getByText('Dusty Forty').count(), 0);
    await browser.killAndReopen();
    await browser.context.setOffline(false);
    await signIn(browser.page, program.url, scout);
    await browser.page.goto(`${program.url}/hand-in`);
    await browser.page.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
    await browser.page.getByRole('link', { name: 'Fields' }).click();
    await browser.page.getByRole('link', { name: 'Dusty Forty' }).click();
    await browser.page.getByText('the farm server has the same').waitFor();
    await browser.page.getByText('The last dig').waitFor();
  });

  test('a wrong password says that nothing was changed', async () => {
    const other = await Browser.open(phone);
    await other.page.goto(program.url);
    await other.page.getByLabel('Sign-in name').fill('scout');
    await other.page.getByLabel('Password').fill('not-the-password-at-all');
    await other.page.getByRole('button', { name: 'Sign in' }).click();
    assert.match(
      await other.page.getByRole('alert').innerText(),
      /Nothing on this phone was changed/,
    );
    await assertAccessible(other.page, 'sign-in');
    await other.close();
  });
});
