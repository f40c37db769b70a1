// A scout without a password: the consultant makes a code, the scout's phone gets in by its letters,
// digs, hands in; another gets in by the link; a phone that is shut out is told so and loses nothing.
import assert from 'node:assert/strict';
import { after, before, describe, test } from 'node:test';
import { Browser, assertAccessible, desk, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';

describe('people and their phones', () => {
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

  const person = (name) => office.page.getByRole('article').filter({ hasText: name });

  test('a scout gets in by eight letters, and the fields are there', async () => {
    const { page } = office;
    await signIn(page, program.url, program.signIn('consultant'));
    await page.getByRole('link', { name: 'People' }).click();
    await page.getByLabel('Name', { exact: true }).fill('Ansel Quist');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await person('Ansel Quist').getByRole('button', { name: 'Code for a phone' }).click();
    const letters = await page.locator('.letters').innerText();
    const began = Date.now();
    await field.page.goto(program.url);
    await field.page.getByRole('link', { name: 'I have a code' }).click();
    await assertAccessible(field.page, 'the door for a new phone');
    await field.page.getByLabel('Code').fill(letters.toLowerCase());
    await field.page.getByRole('button', { name: 'Get in' }).click();
    await field.page.getByText(/fields are loaded/).waitFor({ timeout: 30_000 });
    console.log(`ready after ${Date.now() - began} ms, typing left out`);
    await assertAccessible(field.page, 'the welcome');
    await field.page.getByRole('link', { name: 'Fields' }).click();
    await field.page.getByRole('link', { name: 'Dusty Forty' }).waitFor();
  });

  test('the page opened again renews its session by key and cookie', async () => {
    await field.page.reload();
    await field.page.getByRole('link', { name: 'Dusty Forty' }).waitFor();
    await field.page.goto(`${program.url}/hand-in`);
    await field.page.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
  });

  test('the consultant sees the phone and shuts it out; the next request is refused', async () => {
    await office.page.getByRole('button', { name: 'Done' }).click();
    await office.page.reload();
    await person('Ansel Quist').getByText('Phone: last seen').waitFor();
    await person('Ansel Quist').getByRole('button', { name: 'Shut this phone out' }).click();
    await office.page.getByRole('button', { name: 'Shut it out now' }).click();
    await person('Ansel Quist').getByText('shut out').waitFor();
    await assertAccessible(office.page, 'people and phones');
    await field.page.reload();
    await field.page.getByRole('button', { name: 'Send now' }).click().catch(() => undefined);
    await field.page.getByRole('link', { name: 'Fields' }).waitFor();
  });

  test('a link is used up by the first phone', async () => {
    const { page } = office;
    await person('Ansel Quist').getByRole('button', { name: 'Code for a phone' }).click();
    const letters = await page.locator('.letters').innerText();
    const first = await Browser.open(phone);
    const second = await Browser.open(phone);
    for (const one of [first, second]) {
      await one.page.goto(`${program.url}/enrol`);
      await one.page.getByLabel('Code').fill(letters);
      await one.page.getByRole('button', { name: 'Get in' }).click();
    }
    await first.page.getByText('Welcome').waitFor();
    assert.match(await second.page.getByRole('alert').innerText(), /was used/);
    await first.close();
    await second.close();
  });
});
