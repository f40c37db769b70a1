// The day's walk: its order and reasons, a field under a re-entry time refused to everybody who
// comes, and the desk giving fields to people. Offline where a scout is.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';

let program;
let scout;
let railbed;

before(async () => {
  program = await (await Program.make()).start('--demo');
  scout = await Browser.open(phone);
  await signIn(scout.page, program.url, program.signIn('scout'));
  const link = scout.page.getByRole('link', { name: 'Railbed' });
  railbed = (await link.getAttribute('href')).split('/')[2];
  await installed(scout.page);
});
after(async () => {
  await scout?.close();
  await program?.stop();
});

const namesOf = (page) => page.locator('.turn-name b').allTextContents();

test('today\u2019s order: closing windows first, reasons beside each, no date pretended', async () => {
  const { page } = scout;
  await page.goto(`${program.url}/start`);
  await page.getByRole('heading', { level: 1, name: /walk/ }).waitFor();
  await page.getByText(/Working out/).waitFor({ state: 'detached' });
  await page.locator('.turn').first().waitFor();
  const groups = await page.locator('main h2').allTextContents();
  const urgency = ['Window closes soon', 'Window open', 'Window missed', 'Not to be entered yet', 'Within a week'];
  const found = groups.filter((g) => urgency.includes(g));
  assert.deepEqual(found, urgency.filter((u) => found.includes(u)), 'groups stand by urgency');
  const mine = await namesOf(page);
  assert.ok(mine.includes('North Eighty') && mine.includes('Railbed'), `mine: ${mine}`);
  // The demo knows no weather: every window comes from dates and days per node, and says so, once.
  assert.equal(await page.getByText(/days per node/).count(), 1);
  const line = page.locator('.turn', { hasText: 'North Eighty' });
  await line.getByRole('button', { name: 'Why: North Eighty' }).click();
  await line.getByText(/Likely between/).waitFor();
  await page.getByRole('button', { name: /^All/ }).click();
  await page.getByText(/Working out/).waitFor({ state: 'detached' });
  assert.ok((await namesOf(page)).length > mine.length, 'all are more than mine');
  await page.getByText(/Bring:.*spade/).waitFor();
  await page.getByText(/By this phone\u2019s clock it is/).first().waitFor();
  await assertAccessible(page, 'today');
});

test('field under re-entry interval refused, by list, by button and by address, offline', async () => {
  const { page, context } = scout;
  await context.setOffline(true);
  await page.goto(`${program.url}/today`);
  await page.getByRole('button', { name: /^All/ }).click();
  const line = page.locator('.turn', { hasText: 'Railbed' });
  await line.getByText(/Do not enter before .*16:00/).waitFor();
  await line.getByRole('link', { name: /Railbed/ }).click();
  await page.locator('.keep-out').getByText(/Do not enter before/).waitFor();
  assert.equal(await page.getByRole('button', { name: /^(Dig|Start)/ }).count(), 0, 'no dig to start');
  await page.goto(`${program.url}/field/${railbed}/dig`);
  await page.getByRole('heading', { level: 1, name: 'No dig here yet' }).waitFor();
  assert.equal(await page.locator('.key-button').count(), 0, 'no key of a dig');
  await assertAccessible(page, 'the refusal');
  // A pass whose label nobody has read is a warning, and the dig is open.
  await page.goto(`${program.url}/today`);
  await page.getByRole('button', { name: /^All/ }).click();
  const unread = page.locator('.turn', { hasText: 'Twin Sloughs' });
  await unread.getByText('Ask before you enter, and read the label.').waitFor();
  await context.setOffline(false);
});

test('a scout enters a pass, and the field closes on this phone at once', async () => {
  const { page, context } = scout;
  await context.setOffline(true);
  await page.goto(program.url);
  await page.getByRole('link', { name: 'North Eighty' }).click();
  await page.getByRole('link', { name: 'Passes over the field' }).click();
  await page.getByRole('button', { name: 'Add a pass' }).click();
  await page.getByRole('button', { name: 'Keep this pass' }).click();
  await page.getByText('Write down what went on.').waitFor();
  await page.getByLabel('Product, as the jug says').fill('grass herbicide');
  await page.getByLabel('Hour it ended').fill('1405');
  await page.getByLabel('Re-entry hours from the label').fill('480');
  await page.getByLabel('Re-entry hours from the label').blur();
  await page.getByText('480 hours is 20 days.').waitFor();
  await page.getByRole('button', { name: 'No, change it' }).click();
  await page.getByLabel('Re-entry hours from the label').fill('48');
  await page.getByLabel('Re-entry hours from the label').blur();
  await page.getByRole('button', { name: 'Keep this pass' }).click();
  await page.locator('.keep-out').getByText(/Do not enter before .*14:05/).waitFor();
  await assertAccessible(page, 'passes');
  await context.setOffline(false);
});

test('the desk gives several fields to one person at once', async () => {
  const browser = await Browser.open(desk);
  try {
    const { page } = browser;
    await signIn(page, program.url, program.signIn('consultant'));
    await page.goto(`${program.url}/today`);
    await page.getByText(/Working out/).waitFor({ state: 'detached' });
    for (const name of ['Spruce Edge', 'Section Line'])
      await page.getByLabel(`Choose ${name}`).check();
    await page.getByLabel('Give these 2 fields to').selectOption({ label: 'Jory Pelkanen' });
    await page.getByRole('button', { name: 'Give', exact: true }).click();
    for (const name of ['Spruce Edge', 'Section Line'])
      await page.locator('.turn', { hasText: name }).getByText('Jory Pelkanen').waitFor();
    await assertAccessible(page, 'today at the desk');
  } finally {
    await browser.close();
  }
  const { page } = scout;
  await page.goto(`${program.url}/today`);
  await page.locator('.turn', { hasText: 'Section Line' }).waitFor(); // mine are shown first
});
