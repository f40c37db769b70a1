// One person in two accounts with one name and one password: asked which, both on one phone, walked
// from one list, changed without signing out; what waits in one goes up while the other is open.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, phone, until } from '../browser.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

const second = 'Thistle Creek Agronomy';
let program;
let office;
let field;
let who;

before(async () => {
  program = await (await Program.make()).start();
  const link = program.firstOwnerLink();
  await program.kill();
  await program.start('--demo=beside');
  who = program.signIn('consultant');
  office = await Browser.open(desk);
  await makeSecond(office.page, link);
  field = await Browser.open(phone);
});
after(async () => {
  await office?.close();
  await field?.close();
  await program?.stop();
});

/** An account of the same person, with one field in pea. */
async function makeSecond(page, link) {
  await page.goto(link);
  await page.getByLabel('Name of the account').fill(second);
  await page.getByLabel('Your name').fill('Runa Sedge');
  await page.getByLabel('Sign-in name').fill(who.login);
  await page.getByLabel('Password').fill(who.password);
  await page.getByLabel('Time zone').fill('America/Regina');
  await page.getByRole('button', { name: 'Make the account' }).click();
  await page.getByRole('button', { name: 'Add a field' }).click();
  await page.getByLabel('Grower', { exact: true }).selectOption('new');
  await page.getByLabel('Name of the new grower').fill('Slough Farms');
  await page.getByLabel('Name of the field').fill('Creek Quarter');
  await page.getByRole('button', { name: 'Add the field' }).click();
  await page.getByRole('heading', { level: 2, name: 'Creek Quarter' }).waitFor();
  await page.getByLabel('Crop', { exact: true }).selectOption('pea');
  await page.getByText('the farm server has the same').waitFor({ timeout: 30_000 });
}

/** Signs in by the form that stands; asked which, takes this account. */
async function takeAccount(page, account) {
  await page.getByLabel('Sign-in name').fill(who.login);
  await page.getByLabel('Password', { exact: true }).fill(who.password);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await page.getByText('fit in several accounts').waitFor();
  await page.getByRole('button', { name: `Open ${account}`, exact: false }).click();
  await page.getByRole('heading', { level: 1, name: 'Fields' }).waitFor();
}

/** Waits until the second account's desk has been told of a picture that the server holds. */
const photoStored = () =>
  until(office.page, async () => {
    const named = /^hilum-[0-9a-f-]{36}-[0-9a-f-]{36}$/;
    const { name } = (await indexedDB.databases()).find((d) => named.test(d.name));
    const done = (asked) => new Promise((ok) => (asked.onsuccess = () => ok(asked.result)));
    const db = await done(indexedDB.open(name));
    const pages = await done(db.transaction('page').objectStore('page').getAll());
    db.close();
    return pages.flatMap((p) => p.rows).some((r) => r.kind === 'photo' && r.body.stored);
  });

let demo;

test('asked which, a person gets into one account, then into the other beside it', async () => {
  const { page } = field;
  await page.goto(program.url);
  await takeAccount(page, second);
  await page.getByRole('link', { name: 'Creek Quarter' }).waitFor();
  await page.getByRole('link', { name: 'Settings' }).click();
  await page.getByRole('link', { name: 'Sign in to another account' }).click();
  await page.getByText(/stays on this (phone|computer) and goes on sending/).waitFor();
  assert.equal(await page.getByLabel('Sign-in name').inputValue(), '');
  await page.getByLabel('Sign-in name').fill(who.login);
  await page.getByLabel('Password', { exact: true }).fill(who.password);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await page.getByText('fit in several accounts').waitFor();
  await assertAccessible(page, 'the question which account');
  const other = page.getByRole('button', { name: /^Open / }).filter({ hasNotText: second });
  demo = (await other.innerText()).match(/^Open (.*) as /)[1];
  await other.click();
  await page.getByRole('link', { name: 'Dusty Forty' }).waitFor({ timeout: 30_000 });
  assert.equal(await page.getByRole('link', { name: 'Creek Quarter' }).count(), 0);
});

test('one list shows the fields of both, each with its account', async () => {
  const { page } = field;
  await page.getByRole('link', { name: 'Today', exact: true }).click();
  await page.getByRole('button', { name: /^All / }).or(page.getByLabel(/^All /)).first().click();
  await page.locator('summary').evaluateAll((all) => all.forEach((s) => (s.parentElement.open = true)));
  const line = page.getByRole('listitem').filter({ hasText: 'Creek Quarter' });
  await line.waitFor({ timeout: 60_000 });
  await line.getByText(`In ${second}`).waitFor();
  await page.getByText(`In ${demo}`).first().waitFor();
  await assertAccessible(page, 'the walk of two accounts');
  await line.getByRole('button', { name: /Creek Quarter/ }).click();
  await page.getByRole('heading', { level: 1, name: 'Creek Quarter' }).waitFor();
});

test('what was entered and photographed in one goes up while the other is open', async () => {
  const { page } = field;
  const name = 'Creek Quarter South';
  await installed(page);
  await field.context.setOffline(true);
  await page.setViewportSize(desk); // fields are made at the desk
  await page.goto(program.url);
  await page.getByRole('button', { name: 'Add a field' }).click();
  await page.getByLabel('Grower', { exact: true }).selectOption({ label: 'Slough Farms' });
  await page.getByLabel('Name of the field').fill(name);
  await page.getByRole('button', { name: 'Add the field' }).click();
  await page.getByRole('heading', { name }).first().waitFor();
  await page.setViewportSize(phone);
  await page.goto(program.url);
  await page.getByRole('link', { name: 'Creek Quarter', exact: false }).first().click();
  const digger = new Digger(page);
  await digger.press('Dig roots here');
  await digger.spot('good', 'bare');
  await digger.press('Note');
  await digger.photo();
  await page.locator('.photos img').waitFor();
  await digger.press('Back to digging');
  await digger.press('Finish');
  await digger.press('Done');
  await page.goto(`${program.url}/settings`);
  await page.getByRole('button', { name: `Open ${demo}`, exact: false }).click();
  await page.getByRole('link', { name: 'Dusty Forty' }).waitFor();
  await page.getByRole('link', { name: 'Settings' }).click();
  await page.getByRole('button', { name: new RegExp(`Open ${second}.*to send`) }).waitFor();
  await page.goto(`${program.url}/hand-in`);
  const elsewhere = page.getByRole('heading', { name: 'In other accounts on this phone' });
  await elsewhere.waitFor();
  await page.getByText('1 photo is only on this phone').waitFor();
  assert.equal(await page.getByText('You can put the phone away.').count(), 0);
  await page.goto(`${program.url}/settings`);
  await page.getByRole('button', { name: new RegExp(`Open ${second}.*to send`) }).waitFor();
  await field.context.setOffline(false);
  await page.getByRole('button', { name: new RegExp(`Open ${second} as [^(]*$`) }).waitFor({ timeout: 30_000 });
  await page.goto(`${program.url}/hand-in`);
  await page.getByText('You can put the phone away.').waitFor({ timeout: 60_000 });
  await office.page.reload();
  await office.page.getByRole('link', { name }).waitFor({ timeout: 30_000 });
  await photoStored();
});

test('both renew their sessions after a start, each by its own cookie', async () => {
  await field.killAndReopen();
  const again = field.page;
  for (const account of [demo, second, demo]) {
    await again.goto(`${program.url}/settings`);
    const change = again.getByRole('button', { name: `Open ${account}`, exact: false });
    if (await change.count()) await change.click();
    await again.goto(`${program.url}/hand-in`);
    await again.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
    await again.getByRole('button', { name: 'Send now' }).click();
    await again.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
  }
});
