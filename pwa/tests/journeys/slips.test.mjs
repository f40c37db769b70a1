// What hands do that no screen asked for: a photo taken while digging goes on, a dig only looked at,
// a paper beside an open dig, a button pressed twice, a length of row that cannot be.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, installed, phone, signIn, toTheEnd } from '../browser.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

let program;
let browser;
const ids = new Map();

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(phone);
  const { page } = browser;
  await signIn(page, program.url, program.signIn('scout'));
  await toTheEnd(page);
  for (const name of ['Spruce Edge', 'Railbed', 'White Clay', 'Cistern']) {
    const link = page.getByRole('link', { name }).first();
    ids.set(name, (await link.getAttribute('href')).split('/')[2]);
  }
  await installed(page);
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

const go = (path) => browser.page.goto(program.url + path);
const digAt = (name) => go(`/field/${ids.get(name)}/dig`);

test('a dig only looked at leaves no trace, and keeps no new version waiting', async () => {
  const { page } = browser;
  await digAt('Spruce Edge');
  await page.locator('[data-answer="vigorous"]').waitFor();
  await page.locator('a.back').tap();
  await page.getByRole('button', { name: 'Dig roots here' }).waitFor();
  await digAt('Spruce Edge');
  await page.locator('[data-answer="vigorous"]').waitFor();
  await go('/'); // no goodbye: it stays on the disk, and is no open dig all the same
  await page.getByRole('link', { name: 'White Clay' }).first().waitFor();
  assert.equal(await page.getByRole('link', { name: /^Go on in/ }).count(), 0);
});

/** Holds the drawing of pictures until told to go on, as a slow phone does. */
function slowPictures() {
  const draw = createImageBitmap;
  globalThis.createImageBitmap = async (...args) => {
    await new Promise((done) => (globalThis.drawNow = done));
    return draw(...args);
  };
}

test('a photo that is still being drawn takes no plant away, and follows a closed dig', async () => {
  const { page } = browser;
  await page.addInitScript(slowPictures);
  await digAt('Spruce Edge');
  const digger = new Digger(page);
  await digger.spot('good', 'good');
  await digger.press('Note');
  await digger.photo();
  await page.waitForFunction(() => globalThis.drawNow);
  await digger.press('Back to digging');
  await digger.plant('bare');
  await page.getByText('Spot 1, plant 4').waitFor();
  await page.evaluate(() => globalThis.drawNow());
  await page.waitForTimeout(400);
  await page.getByText('Spot 1, plant 4').waitFor();

  await digger.press('Note');
  assert.equal(await page.locator('.small-photo').count(), 1);
  await page.evaluate(() => (globalThis.drawNow = undefined));
  await digger.photo();
  await page.waitForFunction(() => globalThis.drawNow);
  await digger.press('Back to digging');
  await digger.press('Finish');
  await digger.press('Done');
  await page.locator('.stamp').waitFor();
  await page.evaluate(() => globalThis.drawNow());
  await page.getByText('2 photos').or(page.getByText('1 photo')).first().waitFor();
  await go('/hand-in');
  await page.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
  assert.equal(await page.getByText(/still open/).count(), 0);
});

test('a photo without a plant: it can be let go, and so can its dig', async () => {
  const { page } = browser;
  await go(`/field/${ids.get('Cistern')}/walk`);
  await page.getByRole('button', { name: /^Dig at spot/ }).tap();
  const digger = new Digger(page);
  await digger.press('Note');
  await page.evaluate(() => (globalThis.drawNow = undefined));
  await digger.photo();
  await page.waitForFunction(() => globalThis.drawNow);
  await page.evaluate(() => globalThis.drawNow());
  await page.locator('.small-photo').waitFor();
  await go('/hand-in');
  await page.getByText(/Cistern/).first().waitFor();
  await page.getByRole('link', { name: /Cistern/ }).tap();
  await digger.press('Back to digging');
  await digger.press('Finish');
  await page.getByText('No plant is counted').waitFor();
  await digger.press('Let this dig go');
  await digger.press('Yes, let it go');
  await page.getByRole('heading', { level: 1, name: 'Cistern' }).waitFor();
  await go('/hand-in');
  await page.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
});

test('a paper does not re-date an open dig; on a closed field it can be typed in', async () => {
  const { page } = browser;
  await digAt('White Clay');
  await new Digger(page).spot('good');
  await page.getByText('Spot 1, plant 2').waitFor();
  const paper = async (name) => {
    await go(`/field/${ids.get(name)}/sheet`);
    const day = page.getByLabel('Day on the paper');
    const today = await day.inputValue();
    await day.fill(`${today.slice(0, 8)}12`);
    await day.blur();
    await page.getByRole('button', { name: 'Enter this paper' }).tap();
  };
  await paper('White Clay');
  await page.getByText(/is still open on this field/).waitFor();
  await paper('Railbed'); // under a re-entry time today; what was dug before may be typed
  await page.getByText(/From paper, dug .*12\sJune/).waitFor();
  await new Digger(page).plant('good');
  await page.getByText('Spot 1, plant 2').waitFor();
});

test('a length of row that cannot be is refused before anything is counted on it', async () => {
  const { page } = browser;
  await digAt('White Clay');
  const digger = new Digger(page);
  await digger.press('Finish');
  await digger.tap(page.locator('[data-page="stand"]'));
  await page.getByLabel('Row spacing, read off the drill').fill('10');
  await page.getByLabel('Length of row counted').fill('500');
  await page.getByLabel('Length of row counted').blur();
  await digger.press('Count');
  await page.getByRole('alert').filter({ hasText: 'Length of row counted: is 500' }).waitFor();
  await page.getByLabel('Length of row counted').fill('3');
  await page.getByLabel('Length of row counted').blur();
  await digger.press('Count');
  await page.locator('[data-digit="1"]').waitFor();
});

test('a pass kept by a double tap is one pass, and its time is asked for in words', async () => {
  const { page } = browser;
  await go(`/field/${ids.get('Cistern')}/pass`);
  await page.getByRole('button', { name: 'Add a pass' }).tap();
  await page.getByLabel('Product, as the jug says').fill('fungicide <b>“2 L”</b>');
  await page.getByLabel('Hour it ended').fill('2575');
  await page.getByRole('button', { name: 'Keep this pass' }).dblclick();
  await page.getByRole('alert').filter({ hasText: 'Hour it ended: is no time of day' }).waitFor();
  await page.getByLabel('Hour it ended').fill('1405');
  await page.getByRole('button', { name: 'Keep this pass' }).dblclick();
  await page.locator('.passes li').first().waitFor();
  await page.waitForTimeout(500);
  assert.equal(await page.locator('.passes li').count(), 1);
});

test('hours that nobody has confirmed, or that are no number, are not kept under the thumb', async () => {
  const { page } = browser;
  await go(`/field/${ids.get('Spruce Edge')}/pass`);
  await page.getByRole('button', { name: 'Add a pass' }).tap();
  const keepIt = page.getByRole('button', { name: 'Keep this pass' });
  const hours = page.getByLabel('Re-entry hours from the label');
  await page.getByLabel('Product, as the jug says').fill('broadleaf herbicide');
  for (const [typed, said] of [
    ['12', ''],
    ['1O2', 'is not a number'],
    ['480', '480 hours is 20 days.'],
  ]) {
    await hours.fill(typed);
    await hours.blur();
    if (!said) continue;
    await page.getByText(said).waitFor();
    await keepIt.tap();
    await page.waitForTimeout(400);
    await page.getByText(said).waitFor();
    assert.equal(await page.locator('.passes li').count(), 0, `${typed} was kept as something else`);
  }
  // A reload in the middle takes nothing of what was typed.
  await page.reload();
  await page.getByRole('button', { name: 'Add a pass' }).tap();
  await page.waitForFunction(() =>
    [...document.querySelectorAll('input')].some((i) => i.value === 'broadleaf herbicide'),
  );
  await page.getByRole('button', { name: 'Cancel' }).tap();
  await page.getByRole('button', { name: 'Add a pass' }).tap();
  await page.waitForTimeout(300);
  assert.equal(await page.getByLabel('Product, as the jug says').inputValue(), '');
});

test('at the desk a price or a depth that cannot be is said at once; a decision outlives a reload', async () => {
  await browser.close();
  browser = await Browser.open(phone);
  const { page } = browser;
  await signIn(page, program.url, program.signIn('consultant'));
  await installed(page);
  await go('/prices');
  await page.getByLabel('Soil test', { exact: true }).fill('-3');
  await page.getByLabel('Soil test', { exact: true }).blur();
  await page.getByRole('alert').filter({ hasText: 'Soil test: is -3' }).waitFor();
  await go(`/field/${ids.get('White Clay')}/seeding`);
  await page.getByLabel('Seeding depth', { exact: true }).fill('55');
  await page.getByLabel('Seeding depth', { exact: true }).blur();
  await page.getByRole('alert').filter({ hasText: 'Seeding depth: is 55, accepted 0 to 8 in' }).waitFor();
  await go(`/field/${ids.get('White Clay')}/rescue`);
  await page.getByLabel('Why? In a few words').fill('wet spots <b>“seen”</b>');
  await page.waitForTimeout(300);
  await page.reload();
  await page.waitForFunction(() =>
    [...document.querySelectorAll('input')].some((i) => i.value.startsWith('wet spots')),
  );
  await page.getByRole('button', { name: 'Dig once more', exact: true }).tap();
  await page.getByLabel('On this day at the latest').fill('2072-06-20');
  await page.getByRole('button', { name: 'Decide', exact: true }).tap();
  await page.getByText(/The day must be in/).waitFor();
  const year = await page.evaluate(() => document.body.innerText.match(/must be in (\d+)/)[1]);
  await page.getByLabel('On this day at the latest').fill(`${year}-06-20`);
  await page.getByRole('button', { name: 'Decide', exact: true }).dblclick();
  await page.getByRole('heading', { name: 'Decided', exact: true }).waitFor();
  await page.waitForTimeout(500);
  assert.equal(await page.getByText('Decided before').count(), 0, 'decided twice');
  await go('/hand-in');
  await page.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
});

test('who signs out with work here is named to the next on this phone, who does not put it away', async () => {
  await browser.close();
  browser = await Browser.open(phone);
  const { page } = browser;
  await signIn(page, program.url, program.signIn('scout'));
  await installed(page);
  await digAt('Spruce Edge');
  const digger = new Digger(page);
  await digger.spot('good');
  await browser.context.setOffline(true);
  await digger.press('Finish');
  await digger.press('Done');
  await page.locator('.stamp').waitFor();
  await go('/settings');
  await page.getByRole('button', { name: 'Sign out' }).tap();
  await page.getByText('1 entry is only on this phone. It stays here').waitFor();
  await page.getByRole('button', { name: 'Sign out now' }).tap();
  await page.getByRole('heading', { name: 'Sign in' }).waitFor();
  await browser.context.setOffline(false);
  await signIn(page, program.url, program.signIn('consultant'));
  await go('/hand-in');
  await page.getByText(/^1 entry of .* is only on this phone/).waitFor();
  assert.equal(await page.getByText('You can put the phone away.').count(), 0);
});

test('an outline is not being walked where the position is refused', async () => {
  const { page } = browser;
  await go(`/field/${ids.get('Spruce Edge')}/outline`);
  await page.getByRole('button', { name: 'Begin to walk' }).tap();
  await page.getByText('does not give its position').waitFor();
  await page.getByRole('button', { name: 'Begin to walk' }).waitFor();
});
