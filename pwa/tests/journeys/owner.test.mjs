// What only an owner does: a second step by codes computed here, a grower who looks in and sees the
// own fields only, and a phone that is shut out, whose work comes in by the owner's hand.
import assert from 'node:assert/strict';
import { createHmac } from 'node:crypto';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

let program;
let office;
let field;

before(async () => {
  program = await (await Program.make()).start('--demo');
  office = await Browser.open(desk);
  field = await Browser.open(phone);
});
after(async () => {
  await office?.close();
  await field?.close();
  await program?.stop();
});

const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
const stepMS = 30_000;

/** The code of an app some steps from now (RFC 6238: SHA-1, 30 s, six figures). */
function codeOf(secret, ahead = 0) {
  const bits = [...secret].map((c) => letters.indexOf(c).toString(2).padStart(5, '0')).join('');
  const key = Buffer.from(bits.match(/.{8}/g).map((b) => parseInt(b, 2)));
  const step = Buffer.alloc(8);
  step.writeBigUInt64BE(BigInt(Math.floor(Date.now() / stepMS) + ahead));
  const mac = createHmac('sha1', key).update(step).digest();
  const at = mac[mac.length - 1] & 15;
  return String((mac.readUInt32BE(at) & 0x7fffffff) % 1_000_000).padStart(6, '0');
}

const owner = () => ({ ...program.signIn('consultant'), login: 'owner' });

test('a second step is set up, asked for, and each code counts once', async () => {
  const { page } = office;
  const { password } = owner();
  await signIn(page, program.url, owner());
  await page.goto(`${program.url}/me`);
  const second = page.locator('form').filter({ hasText: 'Second step' });
  await second.getByLabel('Your password now').fill(password);
  await second.getByRole('button', { name: 'Set it up' }).click();
  const words = await page.getByText('Or type into the app:').innerText();
  const secret = words.slice(words.indexOf(':') + 1).replaceAll(/\s/g, '');
  assert.match(secret, /^[A-Z2-7]{32}$/);
  await assertAccessible(page, 'the second step');
  const first = codeOf(secret);
  await second.getByLabel('Code', { exact: true }).fill(first);
  await second.getByRole('button', { name: 'Switch it on' }).click();
  await page.getByText('Recovery codes').waitFor();
  const printed = await page.locator('.letters li').allInnerTexts();
  assert.equal(printed.length, 10);

  const other = await Browser.open(desk);
  await other.page.goto(program.url);
  const enter = async (code) => {
    await other.page.getByLabel('Sign-in name').fill('owner');
    await other.page.getByLabel('Password', { exact: true }).fill(password);
    if (code) await other.page.getByLabel('Code', { exact: true }).fill(code);
    await other.page.getByRole('button', { name: 'Sign in', exact: true }).click();
  };
  await enter('');
  await other.page.getByText('Now the code of the second step').waitFor();
  await enter(first);
  await other.page.getByRole('alert').waitFor();
  await enter(codeOf(secret, 1));
  await other.page.getByRole('heading', { level: 1, name: /Fields/ }).waitFor();
  await other.close();
});

/** Adds a person at the desk and gives the letters for the phone. */
async function letIn(name, role, grower) {
  const { page } = office;
  await page.goto(`${program.url}/people`);
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('Work').selectOption(role);
  if (grower) await page.getByLabel('Whose fields').selectOption({ label: grower });
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  const person = page.getByRole('article').filter({ hasText: name });
  await person.getByRole('button', { name: 'Code for a phone' }).click();
  return page.locator('.letters').innerText();
}

async function getIn(page, code) {
  await page.goto(`${program.url}/enrol`);
  await page.getByLabel('Code').fill(code);
  await page.getByRole('button', { name: 'Get in' }).click();
}

test('a grower sees the own fields, changes nothing, and keeps nothing', async () => {
  const { page } = office;
  await page.goto(program.url);
  const rows = page.getByRole('link', { name: /Dusty Forty|New Breaking|Spruce Edge/ });
  await rows.first().waitFor();
  await page.goto(`${program.url}/people`);
  await page.getByLabel('Work').selectOption('grower');
  const grower = await page.getByLabel('Whose fields').locator('option').nth(1).innerText();
  const code = await letIn('Tove Kvam', 'grower', grower);
  const looker = await Browser.open(phone);
  await getIn(looker.page, code);
  await looker.page.getByLabel('Sign-in name').fill('tove');
  await looker.page.getByLabel('Password').fill('tendril-and-stubble-row');
  await looker.page.getByRole('button', { name: 'Get in' }).click();
  await looker.page.getByRole('heading', { level: 1, name: 'Your fields' }).waitFor();
  await looker.page.locator('section.group h2').first().waitFor();
  const seen = (await looker.page.locator('section.group h2').allInnerTexts()).map((t) => t.split(' · ')[0]);
  await page.goto(program.url);
  await page.getByRole('searchbox').or(page.getByLabel(/Find|Search/)).first().fill(grower);
  await page.waitForTimeout(500);
  for (const name of seen) await page.getByRole('link', { name }).first().waitFor();
  assert.ok(seen.length > 0 && seen.length < 12, `a grower of few fields sees ${seen.length}`);
  await assertAccessible(looker.page, 'a grower’s screen');
  // Every other address leads back to the own fields, and nothing of the feed is on the device.
  for (const path of ['/people', '/today', '/audit']) {
    await looker.page.goto(program.url + path);
    await looker.page.getByRole('heading', { level: 1, name: 'Your fields' }).waitFor();
  }
  const kept = await looker.page.evaluate(async () => {
    const names = (await indexedDB.databases()).map((d) => d.name).filter((n) => n.startsWith('hilum-'));
    let pages = 0;
    for (const name of names) {
      const db = await new Promise((done) => {
        indexedDB.open(name).onsuccess = (e) => done(e.target.result);
      });
      if (!db.objectStoreNames.contains('page')) continue;
      pages += await new Promise((done) => {
        db.transaction('page').objectStore('page').count().onsuccess = (e) => done(e.target.result);
      });
      db.close();
    }
    return pages;
  });
  assert.equal(kept, 0);
  await looker.close();
});

test('a phone that is shut out hands its work in, and the owner takes it up', async () => {
  const code = await letIn('Ansel Quist', 'scout');
  const { page } = field;
  await getIn(page, code);
  await page.getByText(/fields are loaded/).waitFor({ timeout: 30_000 });
  await installed(page);
  await page.getByRole('link', { name: 'Fields' }).click();
  await field.context.setOffline(true);
  await page.getByRole('link', { name: 'Dusty Forty' }).click();
  const digger = new Digger(page);
  await digger.press('Dig roots here');
  await digger.spot('good', 'bare');
  await digger.press('Finish');
  await digger.press('Done');
  await page.getByText('1 to send').waitFor();

  const person = office.page.getByRole('article').filter({ hasText: 'Ansel Quist' });
  await office.page.reload();
  await person.getByRole('button', { name: 'Shut this phone out' }).click();
  await office.page.getByRole('button', { name: 'Shut it out now' }).click();
  await person.getByText('shut out').waitFor();

  await field.context.setOffline(false);
  await page.goto(`${program.url}/hand-in`);
  await page.getByText('Your access has ended').waitFor({ timeout: 30_000 });
  await assertAccessible(page, 'the hand-in of a phone that was shut out');
  const send = page.getByRole('button', { name: 'Send now' });
  if (await send.count()) await send.click().catch(() => undefined);
  await page.getByText('Nothing is left to hand in.').waitFor({ timeout: 30_000 });

  await office.page.goto(`${program.url}/review`);
  await office.page.getByText('This device has no access any more').waitFor();
  await assertAccessible(office.page, 'what is set aside');
  await office.page.getByRole('button', { name: 'Take it up' }).click();
  await office.page.getByText('Nothing is set aside.').waitFor();
  await office.page.setViewportSize(phone);
  await office.page.goto(program.url);
  await office.page.getByRole('link', { name: 'Dusty Forty' }).click();
  await office.page.getByText('the farm server has the same').waitFor({ timeout: 30_000 });
  await office.page.getByText('The last dig').waitFor();
});
