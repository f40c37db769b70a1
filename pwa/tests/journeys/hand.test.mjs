// Hands, sun and languages: sizes and places of what is tapped, measured on a small screen; no
// accessibility fault on any of the phone's screens, in daylight, at night and in French.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, installed, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

const small = { width: 360, height: 640 };
const lowerPart = 0.6;
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

/** Every control that can be seen, with its box. */
function controls(page) {
  return page.evaluate(() => {
    const all = document.querySelectorAll('button, a[href], input, select, textarea, summary');
    return [...all]
      .map((e) => {
        const box = (e.type === 'checkbox' ? e.closest('label') : e).getBoundingClientRect();
        const { top, bottom, width, height } = box;
        const words = (e.textContent || e.getAttribute('aria-label') || e.id).trim().slice(0, 40);
        const inText = e.tagName === 'A' && e.parentElement.tagName === 'P';
        return {
          words,
          top,
          bottom,
          width,
          height,
          key: e.classList.contains('key-button'),
          loud: e.classList.contains('loud'),
          inText,
        };
      })
      .filter((c) => c.width > 0 && c.height > 0);
  });
}

async function assertSizes(page, where) {
  for (const c of await controls(page)) {
    if (c.inText) continue; // a link inside a sentence is as high as its line
    const least = c.key ? 72 : c.loud ? 64 : 48;
    assert.ok(
      c.height >= least - 0.5,
      `${where}: “${c.words}” is ${c.height} px high, least ${least}`,
    );
    assert.ok(c.width >= 48 - 0.5, `${where}: “${c.words}” is ${c.width} px wide`);
  }
}

async function assertReach(page, where) {
  const from = small.height * (1 - lowerPart);
  for (const c of await controls(page)) {
    if (c.words.startsWith('←')) continue; // leaving is not part of the flow
    assert.ok(
      c.top >= from - 0.5,
      `${where}: “${c.words}” starts at ${c.top}, the thumb reaches from ${from}`,
    );
    assert.ok(c.bottom <= small.height + 0.5, `${where}: “${c.words}” ends below the screen`);
  }
}

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
    await assertSizes(page, step);
    await assertReach(page, step);
    await digger.tap(page.locator(`[data-answer="${answer}"]`));
  }
  await digger.spot('good', 'good', 'fair', 'good');
  await digger.press('Next spot');
  await digger.spot('good', 'fair', 'good', 'good', 'poor');
  await assertSizes(page, 'after ten plants');
  await assertReach(page, 'after ten plants');
  await digger.press('Finish');
  await assertSizes(page, 'finish');
  t.diagnostic(`taps for a ten-plant dig at two spots: ${digger.taps + 1}`);
  assert.ok(digger.taps + 1 <= 45);
  await assertAccessible(page, 'finish');
});

test('undo takes back tap by tap, and a storm of taps is counted exactly', async () => {
  const { page } = browser;
  await page.getByRole('button', { name: 'Dig on' }).tap();
  const before = await page.locator('.where').innerText();
  await page.locator('[data-answer="vigorous"]').tap();
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.getByText('How does the plant look?').waitFor();
  assert.equal(await page.locator('.where').innerText(), before);
  await page.getByRole('button', { name: 'Next spot' }).tap();
  const plants = 15;
  for (let i = 0; i < plants; i++) {
    await page.locator('[data-answer="pale"]').dispatchEvent('click');
    await page.waitForTimeout(100);
    await page.locator('[data-answer="none"]').dispatchEvent('click');
    await page.waitForTimeout(100);
  }
  await page.getByText(`Spot 3, plant ${plants + 1}`).waitFor();
  await page.reload();
  await page.getByText(`Spot 3, plant ${plants + 1}`).waitFor();
});

const looks = [
  ['en', 'light'],
  ['en', 'night'],
  ['fr', 'light'],
];

test('every screen of the phone is accessible and its controls are large enough', async () => {
  const { page } = browser;
  for (const [language, theme] of looks) {
    await page.evaluate(
      ([l, t]) => {
        localStorage.setItem('hilum.language', l);
        localStorage.setItem('hilum.theme', t);
      },
      [language, theme],
    );
    for (const path of [
      '/',
      `/field/${field}`,
      `/field/${field}/dig`,
      '/hand-in',
      '/look',
      '/settings',
      '/about',
      '/sign-in',
      '/nowhere',
    ]) {
      await page.goto(program.url + path);
      await page.locator('h1').first().waitFor();
      await page.getByText(/Working it out|Calcul en cours/).waitFor({ state: 'detached' });
      await assertAccessible(page, `${path} (${language}, ${theme})`);
      await assertSizes(page, `${path} (${language})`);
    }
  }
});

test('twice the text size loses nothing sideways', async () => {
  const { page } = browser;
  for (const path of ['/', `/field/${field}`, `/field/${field}/dig`, '/hand-in', '/settings']) {
    await page.goto(program.url + path);
    await page.locator('h1').first().waitFor();
    await page.evaluate(() => (document.documentElement.style.fontSize = '36px'));
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(over <= 1, `${path} is ${over} px too wide at 200 % text`);
  }
});
