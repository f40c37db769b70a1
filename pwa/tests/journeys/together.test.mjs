// A new version that comes while work is unsent; two tabs of one person; two people over one value;
// a photo's way; and the desk by night and in French.
import assert from 'node:assert/strict';
import { after, before, describe, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, phone, signIn, until } from '../browser.mjs';
import { Proxy } from '../proxy.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

let program;
before(async () => (program = await (await Program.make()).start('--demo')));
after(() => program?.stop());

describe('on the phone', () => {
  let proxy;
  let browser;
  before(async () => {
    proxy = await Proxy.to(program);
    browser = await Browser.open(phone);
  });
  after(async () => {
    await browser?.close();
    await proxy?.close();
  });

  test('a new version is offered outside a dig, taken, and the unsent work arrives', async () => {
    const { page } = browser;
    await signIn(page, proxy.url, program.signIn('scout'));
    await page.getByRole('link', { name: 'Dusty Forty' }).waitFor();
    await installed(page);
    await page.route('**/sync', (route) => route.abort());
    await page.getByRole('link', { name: 'Dusty Forty' }).click();
    const digger = new Digger(page);
    await digger.press('Dig roots here');
    await digger.spot('good', 'good');
    await digger.press('Note');
    await digger.photo();
    await page.locator('.photos img').waitFor();
    await digger.press('Back to digging');
    proxy.newer = true;
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    await until(page, async () => (await navigator.serviceWorker.ready).waiting !== null);
    assert.equal(await page.getByText('A new version is ready').count(), 0);
    await digger.press('Finish');
    await digger.press('Done');
    await page.getByText(/to send/).first().waitFor();
    await page.getByRole('link', { name: 'To the next field' }).click();
    await page.getByText('A new version is ready').waitFor();
    const loaded = page.waitForEvent('load');
    await page.getByRole('button', { name: 'Take it' }).click();
    await loaded;
    await page.getByText('2 to send').waitFor();
    await page.unroute('**/sync');
    await page.goto(`${proxy.url}/hand-in`);
    await page.getByRole('button', { name: 'Send now' }).click();
    await page.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
  });

  test('a dig is put right plant by plant, with its reason', async () => {
    const { page } = browser;
    await page.goto(proxy.url);
    await page.getByRole('link', { name: 'Dusty Forty' }).click();
    await page.getByRole('link', { name: 'How this was reached' }).first().click();
    await page.getByText('1 photo').waitFor();
    await assertAccessible(page, 'a closed dig');
    await page.getByRole('link', { name: 'Put right what was wrong' }).click();
    await page.getByRole('button', { name: /Spot 1, plant 2/ }).click();
    await assertAccessible(page, 'a correction');
    await page.getByRole('button', { name: 'This plant does not count' }).click();
    await page.getByText('A correction needs its reason.').waitFor();
    await page.getByLabel('Why? In a few words').fill('Roots were torn');
    await page.getByRole('button', { name: 'This plant does not count' }).click();
    await page.getByText('“Roots were torn”').waitFor(); // in the list: it is kept
    await page.goto(proxy.url);
    await page.getByRole('link', { name: 'Dusty Forty' }).click();
    await page.getByText('the farm server has the same').waitFor({ timeout: 30_000 });
    await page.getByText(/1 of 1/).first().waitFor();
  });
});

describe('at the desk', () => {
  let browser;
  before(async () => {
    browser = await Browser.open(desk);
    await signIn(browser.page, program.url, program.signIn('consultant'));
  });
  after(() => browser?.close());

  const open = async (page, field) => {
    await page.getByRole('link', { name: field, exact: true }).click();
    await page.getByText('the farm server has the same').waitFor({ timeout: 30_000 });
  };
  const setNitrate = async (page, value) => {
    await page.getByLabel('Nitrate in layer 1').fill(value);
    await page.getByLabel('Nitrate in layer 1').press('Enter');
  };

  test('two tabs of one person show and number the same work', async () => {
    const { page } = browser;
    await open(page, 'New Breaking');
    const second = await browser.context.newPage();
    await second.goto(page.url());
    await second.getByText('the farm server has the same').waitFor();
    await setNitrate(page, '21');
    await second.waitForFunction(
      () => document.querySelector('.layers td:nth-child(4) input')?.value === '21',
    );
    await setNitrate(second, '22');
    await page.waitForFunction(
      () => document.querySelector('.layers td:nth-child(4) input')?.value === '22',
    );
    await page.getByText('the farm server has the same').waitFor();
    await second.close();
  });

  test('what one desk enters another shows without being asked', async () => {
    const other = await Browser.open(desk);
    await signIn(other.page, program.url, program.signIn('consultant'));
    await open(other.page, 'New Breaking');
    await setNitrate(other.page, '31');
    await browser.page.waitForFunction(
      () => document.querySelector('.layers td:nth-child(4) input')?.value === '31',
    );
    // Both now enter a value without knowing of each other's.
    await browser.context.setOffline(true);
    await setNitrate(browser.page, '41');
    await browser.page.getByText(/to send/).first().waitFor();
    await setNitrate(other.page, '51');
    await other.page.getByText('the farm server has the same').waitFor();
    await browser.context.setOffline(false);
    await browser.page.goto(`${program.url}/review`);
    await browser.page.getByText(/nitrate 51/i).waitFor({ timeout: 30_000 });
    await assertAccessible(browser.page, 'the review list');
    const side = browser.page.locator('.sides li', { hasText: /nitrate 51/i });
    await side.getByRole('button', { name: 'This one is right' }).click();
    await browser.page.getByText('Nothing needs a decision.').waitFor();
    await browser.page.getByText(/At the farm server/).waitFor();
    await other.close();
  });

  test('the open panel is accessible, by day, by night and in French', async () => {
    const { page } = browser;
    await page.goto(program.url);
    await open(page, 'New Breaking');
    await assertAccessible(page, 'the panel');
    await page.getByText('The whole working', { exact: true }).click();
    await page.locator('summary', { hasText: 'Stages and dates' }).click();
    await assertAccessible(page, 'the whole working');
    await page.goto(`${program.url}/settings`);
    await page.getByRole('button', { name: 'Français' }).click();
    await page.getByRole('button', { name: 'Nuit' }).click();
    await page.goto(program.url);
    await page.getByRole('link', { name: 'New Breaking', exact: true }).click();
    await page.getByText('Azote de démarrage').first().waitFor();
    await assertAccessible(page, 'the panel by night and in French');
  });
});
