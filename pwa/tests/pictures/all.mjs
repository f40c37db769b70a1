// Writes a picture of every screen, phone and desk, in both languages and both themes, and the
// grower's page as paper, to a folder that is not part of the repository.
//   npm run pictures [-- phone | desk] [-- en | fr | night]
import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Browser, desk, installed, phone, signIn } from '../browser.mjs';
import { Digger } from '../journeys/dig.mjs';
import { Program } from '../server.mjs';

const out = resolve(import.meta.dirname, '../../../pictures');
const wanted = process.argv.slice(2);
const wants = (name, among) => !wanted.some((w) => among.includes(w)) || wanted.includes(name);
mkdirSync(out, { recursive: true });

const looks = [
  { name: 'en', language: 'en', theme: 'light' },
  { name: 'fr', language: 'fr', theme: 'light' },
  { name: 'night', language: 'en', theme: 'night' },
];

async function wear(page, look) {
  await page.evaluate(({ language, theme }) => {
    localStorage.setItem('hilum.language', language);
    localStorage.setItem('hilum.theme', theme);
  }, look);
  await page.reload();
}

/** Goes to a page inside the program and waits until nothing is being worked out. */
async function go(page, url) {
  await page.goto(url);
  await page.locator('h1').first().waitFor();
  await page.getByText(/Working it out|Calcul en cours/).waitFor({ state: 'detached' });
  await page.waitForTimeout(400);
}

const shot = async (page, name, fullPage = false) => {
  await page.screenshot({ path: join(out, `${name}.png`), fullPage });
};

async function fieldId(page, name) {
  return (await page.getByRole('link', { name }).first().getAttribute('href')).split('/')[2];
}

async function phonePictures(program, look) {
  const browser = await Browser.open(phone);
  const { page } = browser;
  const to = (name) => `phone-${look.name}-${name}`;
  await page.goto(program.url);
  await wear(page, look);
  await page.locator('h1').waitFor();
  await shot(page, to('01-sign-in'));
  await signIn(page, program.url, program.signIn('scout'));
  await page.getByRole('link', { name: 'New Breaking' }).waitFor();
  await installed(page);
  const [plain, dug] = [await fieldId(page, 'Spruce Edge'), await fieldId(page, 'New Breaking')];
  await shot(page, to('02-fields'));
  await go(page, `${program.url}/field/${plain}`);
  await shot(page, to('03-field'));
  for (const s of await page.locator('details.reason > summary').all()) await s.click();
  await page.waitForTimeout(300);
  await shot(page, to('04-field-reasons'), true);
  await go(page, `${program.url}/field/${dug}`);
  await shot(page, to('05-field-dug'));
  await digPictures(program, browser, plain, to);
  for (const [name, path] of [
    ['12-settings', '/settings'],
    ['13-about', '/about'],
    ['14-look', '/look'],
  ]) {
    await go(page, program.url + path);
    await shot(page, to(name), true);
  }
  await browser.close();
}

async function digPictures(program, browser, field, to) {
  const { page } = browser;
  await browser.context.setOffline(true);
  await go(page, `${program.url}/field/${field}/dig`);
  const digger = new Digger(page);
  await shot(page, to('06-dig-vigour'));
  await digger.spot('good', 'good', 'fair', 'poor', 'good');
  await digger.tap(page.locator('.row button').nth(2));
  await digger.spot('good', 'bare', 'good');
  await digger.tap(page.locator('[data-answer="vigorous"]'));
  await page.waitForTimeout(500);
  await shot(page, to('07-dig-nodules'));
  await digger.tap(page.locator('[data-answer="3to5"]'));
  await shot(page, to('08-dig-inside'));
  await digger.tap(page.locator('[data-answer="pink"]'));
  await shot(page, to('09-dig-position'));
  await digger.tap(page.locator('[data-answer="mostlyCrown"]'));
  await digger.tap(page.locator('.row button').nth(3));
  await page.waitForTimeout(200);
  await shot(page, to('10-dig-finish'));
  await digger.tap(page.locator('.row button').nth(1));
  await page.locator('.stamp').waitFor();
  await shot(page, to('11-verdict'), true);
  await go(page, `${program.url}/hand-in`);
  await shot(page, to('11b-hand-in-offline'));
  await browser.context.setOffline(false);
  await page.locator('button.loud').click();
  await page.getByText(/put the phone away|ranger le téléphone/).waitFor();
  await shot(page, to('11c-hand-in-away'));
}

async function deskPictures(program, look) {
  const browser = await Browser.open(desk);
  const { page } = browser;
  const to = (name) => `desk-${look.name}-${name}`;
  await page.goto(program.url);
  await wear(page, look);
  await page.locator('h1').waitFor();
  await shot(page, to('01-sign-in'));
  await signIn(page, program.url, program.signIn('consultant'));
  await page.getByRole('link', { name: 'New Breaking' }).waitFor();
  await page.waitForTimeout(800);
  await shot(page, to('02-fields'));
  const field = await fieldId(page, 'New Breaking');
  await go(page, `${program.url}/field/${field}`);
  await page.locator('.panel .answer').first().waitFor();
  await shot(page, to('03-field'));
  await shot(page, to('03-field-whole'), true);
  for (const [name, path] of [
    ['04-people', '/people'],
    ['05-account', '/account'],
    ['06-hand-in', '/hand-in'],
    ['07-settings', '/settings'],
    ['08-about', '/about'],
  ]) {
    await go(page, program.url + path);
    await shot(page, to(name), true);
  }
  await go(page, `${program.url}/field/${field}/paper`);
  await page.locator('.paper .answer').first().waitFor();
  await shot(page, to('09-paper'), true);
  await paper(page, to('10-paper-print'));
  await browser.close();
}

/** The paper as it leaves the printer; a picture of it where the tool for that is there. */
async function paper(page, name) {
  const path = join(out, `${name}.pdf`);
  await page.pdf({ path, format: 'Letter', preferCSSPageSize: true });
  try {
    execFileSync('pdftoppm', ['-r', '80', '-png', path, join(out, name)]);
  } catch {
    console.log('pdftoppm is not there: the paper stays a PDF');
  }
}

const program = await (await Program.make()).start('--demo');
try {
  for (const look of looks) {
    if (
      !wants(
        look.name,
        looks.map((l) => l.name),
      )
    )
      continue;
    if (wants('phone', ['phone', 'desk'])) await phonePictures(program, look);
    if (wants('desk', ['phone', 'desk'])) await deskPictures(program, look);
  }
} finally {
  await program.stop();
}
console.log(`pictures are in ${out}`);
