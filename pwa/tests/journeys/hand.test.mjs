// Hands, sun and languages: sizes and places of what is tapped, measured on a small screen; no
// accessibility fault on any of the phone's screens, in daylight, at night and in French.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, signIn } from '../browser.mjs';
import { measure } from '../hand/measure.mjs';
import { named, tours, walkTour } from '../screens.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

const small = { width: 360, height: 640 };
let program;
let browser;
let field;

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(small);
  await signIn(browser.page, program.url, program.signIn('scout'));
  const link = browser.page.getByRole('link', { name: 'Spruce Edge' });
  field = (await link.getAttribute('href')).split('/')[2];
  await installed(browser.page);
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

test('the counting flow lies under the thumb, with big keys, on a small screen', async (t) => {
  const { page } = browser;
  await page.goto(`${program.url}/field/${field}/dig`);
  await page.getByText('How does the plant look?').waitFor();
  const digger = new Digger(page);
  for (const [step, answer] of [
    ['vigour', 'vigorous'],
    ['nodules', 'over5'],
    ['inside', 'pink'],
    ['position', 'crownAndLateral'],
  ]) {
    assert.deepEqual(await measure(page, { flow: true, quick: true }), [], step);
    await digger.tap(page.locator(`[data-answer="${answer}"]`));
  }
  await digger.spot('good', 'good', 'fair', 'good');
  await digger.press('Next spot');
  await digger.spot('good', 'fair', 'good', 'good', 'poor');
  await digger.press('Finish');
  t.diagnostic(`taps for a ten-plant dig at two spots: ${digger.taps + 1}`);
  assert.ok(digger.taps + 1 <= 45);
  await assertAccessible(page, 'finish');
});

test('undo takes back tap by tap, and a storm of taps is counted exactly', async () => {
  const { page } = browser;
  await page.getByRole('button', { name: 'Dig on' }).tap();
  const before = await page.locator('.where').innerText();
  await page.locator('[data-answer="vigorous"]').tap();
  const aPerson = () => page.waitForTimeout(100); // sooner is taken for a wet screen's second tap
  await aPerson();
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.getByText('How does the plant look?').waitFor();
  assert.equal(await page.locator('.where').innerText(), before);
  await aPerson();
  await page.getByRole('button', { name: 'Next spot' }).tap();
  await aPerson();
  const plants = 15;
  for (let i = 0; i < plants; i++) {
    await page.locator('[data-answer="pale"]:visible').dispatchEvent('click');
    await aPerson();
    await page.locator('[data-answer="none"]:visible').dispatchEvent('click');
    await aPerson();
  }
  await page.getByText(`Spot 3, plant ${plants + 1}`).waitFor();
  await page.reload();
  await page.getByText(`Spot 3, plant ${plants + 1}`).waitFor();
});

/** The scout's way through every screen; `npm run hand` walks the other tours and sizes too. */
const scout = tours.find((tour) => named(tour) === 'scout-phone');

for (const language of ['en', 'fr'])
  test(`every screen of the scout serves hand, sun and large text (${language})`, async () => {
    const faults = [];
    const look = { language, theme: 'light', size: small };
    await walkTour(program, scout, look, async (screen, { page }) => {
      const found = await measure(page, { ...screen, quick: true });
      faults.push(...found.map((fault) => `${screen.name}: ${fault}`));
    });
    assert.deepEqual(faults, []);
  });

/** Each spoils one thing; what is measured has to see it. */
const planted = [
  ['size', '.row button { min-height: 40px; height: 40px; padding: 0 }'],
  ['gap', '.keys { gap: 2px }'],
  ['contrast', ':root { --ink: #8a8a8a }'],
  ['edge', '.key-button { border-color: #bbb }'],
  ['reach', '.tally { display: none } .thumb { margin-top: 0; margin-bottom: auto }'],
  ['loss: the page', '.row { width: 50rem }'],
  ['loss: “How does the plant look?” is cut off', '.ask { height: 8px; overflow: hidden }'],
  ['color-contrast', ':root { --ink: #8a8a8a }'],
];

test('the measures see planted faults', async () => {
  const { page } = browser;
  await page.goto(`${program.url}/field/${field}/dig`);
  await page.getByText('How does the plant look?').waitFor();
  for (const [named, style] of planted) {
    await page.evaluate((text) => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(text);
      document.adoptedStyleSheets = [sheet];
    }, style);
    const found = await measure(page, { flow: true, quick: true });
    assert.ok(
      found.some((fault) => fault.includes(named)),
      `${style} was not seen as “${named}”: ${found.join('; ')}`,
    );
  }
  await page.evaluate(() => (document.adoptedStyleSheets = []));
  assert.deepEqual(await measure(page, { flow: true, quick: true }), []);
});

test('however long a dig is, its keys stay under the thumb', async () => {
  const { page } = browser;
  await page.goto(program.url);
  const link = page.getByRole('link', { name: 'Twin Sloughs' });
  await page.goto(`${program.url}${await link.getAttribute('href')}/dig`);
  await page.getByText('How does the plant look?').waitFor();
  const digger = new Digger(page);
  for (let spot = 1; spot <= 7; spot++) {
    const plants = ['good', 'poor', ...Array(spot === 6 ? 13 : 3).fill('bare')];
    await digger.spot(...plants);
    if (spot < 7) await digger.press('Next spot');
  }
  await page.getByText('Spot 7, plant 6').waitFor();
  for (const answer of ['vigorous', 'over5', 'pink', 'crownAndLateral']) {
    assert.deepEqual(await measure(page, { flow: true, quick: true }), [], answer);
    await digger.tap(page.locator(`[data-answer="${answer}"]`));
  }
});

/** The desk sows soybean where something else was meant. */
async function sowSoybean(path) {
  const office = await Browser.open(desk);
  const { page } = office;
  await signIn(page, program.url, program.signIn('consultant'));
  await page.goto(program.url + path);
  await page.locator('summary').first().waitFor();
  await page.evaluate(() => document.querySelectorAll('details').forEach((d) => (d.open = true)));
  const plan = page.locator('section.edit').filter({ has: page.locator('h3', { hasText: 'Plan for' }) }).first();
  await plan.locator('select').first().selectOption('soybean');
  await page.locator('.panel-head .kept:not(.waits)').waitFor();
  await page.goto(`${program.url}/hand-in`);
  await page.getByText('Nothing waits on this computer').waitFor();
  await office.close();
}

test('nodules are counted by keys that stay where they are, on a field to be left as well', async () => {
  const { page } = browser;
  await page.goto(program.url);
  const path = await page.getByRole('link', { name: 'Long Draw' }).getAttribute('href');
  await sowSoybean(path);
  await page.goto(`${program.url}/hand-in`);
  await page.getByRole('button', { name: 'Send now' }).tap();
  await page.goto(program.url + path);
  await page.getByText('Soybean').first().waitFor();
  await page.goto(`${program.url}${path}/pass`);
  await page.getByRole('button', { name: 'Add a pass' }).tap();
  await page.getByRole('button', { name: 'Keep this pass' }).tap();
  await page.getByText('Write down what went on.').waitFor();
  const top = (locator) => locator.evaluate((e) => e.getBoundingClientRect().top);
  assert.ok((await top(page.locator('.wrong'))) > 0, 'what lacks is not in sight');
  const digger = new Digger(page);
  await page.goto(`${program.url}${path}/dig`);
  const number = async (digits, name) => {
    const key = page.locator('[data-digit="5"]');
    const before = await top(key);
    for (const d of digits) await digger.tap(page.locator(`[data-digit="${d}"]`));
    assert.equal(await top(key), before, 'the keys moved under the finger');
    assert.deepEqual(await measure(page, { flow: true, quick: true }), [], name);
    await digger.press('OK');
  };
  const plant = async (name) => {
    assert.deepEqual(await measure(page, { flow: true, quick: true }), [], name);
    await digger.tap(page.locator('[data-answer="vigorous"]'));
    await number('12', name);
    for (const answer of ['pink', 'crownAndLateral']) {
      assert.deepEqual(await measure(page, { flow: true, quick: true }), [], answer);
      await digger.tap(page.locator(`[data-answer="${answer}"]`));
    }
  };
  for (let spot = 1; spot <= 3; spot++) {
    await plant(`spot ${spot}`);
    await digger.press('Next spot');
  }
  await plant('spot 4');
  await page.goto(`${program.url}${path}/pass`);
  await page.getByRole('button', { name: 'Add a pass' }).tap();
  await page.getByLabel('Product, as the jug says').fill('broadleaf herbicide');
  await page.getByLabel('Re-entry hours from the label').fill('48');
  await page.getByRole('button', { name: 'Keep this pass' }).tap();
  await page.locator('.passes li').waitFor();
  await page.goto(`${program.url}${path}/dig`);
  await page.getByText(/^Do not enter before/).waitFor();
  await plant('to be left');
});
