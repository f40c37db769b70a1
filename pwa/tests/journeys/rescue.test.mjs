// A decision dig that leads to a rescue call: the scout digs with no signal and is told what it
// says; at home it goes up; the consultant weighs it and decides with a reason; the scout sees it.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import {
  Browser,
  assertAccessible,
  desk,
  installed,
  phone,
  signIn,
  toTheEnd,
  until,
} from '../browser.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

const fieldName = 'Old Pasture';
let program;
let scout;
let office;

before(async () => {
  program = await (await Program.make()).start('--demo');
  [scout, office] = [await Browser.open(phone), await Browser.open(desk)];
});
after(async () => {
  await scout?.close();
  await office?.close();
  await program?.stop();
});

test('a scout digs bare roots offline, looks for other causes and counts the stand', async (t) => {
  const { page } = scout;
  await signIn(page, program.url, program.signIn('scout'));
  await toTheEnd(page);
  const link = page.getByRole('link', { name: fieldName }).first();
  const path = await link.getAttribute('href');
  await installed(page);
  await scout.context.setOffline(true);
  await page.goto(`${program.url}${path}`);
  await page.getByRole('heading', { name: 'Three dates' }).waitFor();
  await page.goto(`${program.url}${path}/dig`);
  const digger = new Digger(page);
  for (let spot = 0; spot < 4; spot++) {
    if (spot > 0) await digger.press('Next spot');
    await digger.spot('bare', 'bare', 'bare', 'poor', 'bare');
  }
  await page.getByText('Enough plants: the field is poorly nodulated.').waitFor();
  await digger.press('Finish');
  await digger.tap(page.locator('[data-page="checks"]'));
  await page.getByText('1 of 8: Herbicide injury').waitFor();
  for (let cause = 0; cause < 8; cause++)
    await digger.tap(page.locator('[data-looked="notSeen"]'));
  await page.getByText('8 of 8 looked at, 0 seen').waitFor();

  await digger.tap(page.locator('[data-page="stand"]'));
  await page.getByLabel('Row spacing, read off the drill').fill('10');
  await page.getByLabel('Row spacing, read off the drill').blur();
  await digger.press('Count');
  for (const n of ['24', '26']) {
    for (const d of n) await digger.tap(page.locator(`[data-digit="${d}"]`));
    await digger.tap(page.locator('[data-key="done"]'));
  }
  await page.getByText(/plants\/m/).first().waitFor();
  await scout.killAndReopen();
  await scout.context.setOffline(true);
  const again = scout.page;
  await again.goto(`${program.url}${path}/dig`);
  await again.getByText('24 · 26').waitFor();
  const back = new Digger(again);
  await back.press('Back');
  await back.tap(again.locator('[data-page="nodes"]'));
  await back.press('One node more');
  await back.press('Back');
  await back.press('Done');
  await again.getByText('Would rescue nitrogen pay?').waitFor();
  await again.getByText(/Chance that it would pay: /).first().waitFor(); // the demo's day is in time
  await again.getByText('Provisional, until the consultant has confirmed it').waitFor();
  await assertAccessible(again, 'the verdict with rescue');
  t.diagnostic(`taps for 20 plants at 4 spots with all that can be told: ${digger.taps + back.taps}`);
  assert.equal(await again.getByText(/^apply/i).count(), 0, 'the program told somebody to apply');

  await again.goto(`${program.url}${path}/rescue`);
  await again.getByRole('heading', { name: 'What could be done' }).waitFor();
  assert.equal(await again.getByRole('button', { name: 'Decide' }).count(), 0);
  await again.goto(`${program.url}/hand-in`);
  await scout.context.setOffline(false);
  await again.getByRole('button', { name: 'Send now' }).click();
  await again.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
});

test('the consultant weighs it and decides with a reason', async () => {
  const { page } = office;
  await signIn(page, program.url, program.signIn('consultant'));
  await page.getByText('To decide', { exact: true }).waitFor(); // what waits for a decision stands first
  await page.getByRole('link', { name: fieldName, exact: true }).click();
  await page.locator('.panel').getByRole('link', { name: 'Rescue call' }).click();
  await page.getByText('Would rescue nitrogen pay?').waitFor();
  await page.getByText('Poorly nodulated').or(page.getByText('No nodules')).first().waitFor();
  await assertAccessible(page, 'the rescue call');
  const cost = page.getByRole('row', { name: /^Rescue nitrogen/ }).getByRole('cell').first();
  const before = await cost.innerText();
  await page.getByText('Reckon with other facts').click();
  await page.getByLabel('With a urease inhibitor').check(); // less is lost, so less has to go on
  await until(page, (old) => document.querySelector('.options-table td').innerText !== old, before);
  await assertAccessible(page, 'reckoned with other facts');
  await page.getByRole('button', { name: 'Rescue nitrogen', exact: true }).click();
  await page.getByRole('button', { name: 'Decide', exact: true }).click();
  await page.getByText('Rescue nitrogen needs its rate.').waitFor();
  await page.getByLabel('Nitrogen', { exact: true }).fill('900');
  const today = await page.evaluate(() => document.querySelector('input[type=date]') !== null);
  assert.ok(today);
  const day = new Date().getUTCMonth() >= 7 ? new Date().getUTCFullYear() + 1 : new Date().getUTCFullYear();
  await page.getByLabel('On this day at the latest').fill(`${day}-06-17`);
  await page.getByLabel('Why? In a few words').fill('bare at four spots, nothing else seen');
  await page.getByRole('button', { name: 'Decide', exact: true }).click();
  await page.locator('.entry', { hasText: 'Nitrogen' }).getByRole('alert').filter({ hasText: 'is 900, accepted 0 to 300' }).waitFor();
  await page.getByLabel('Nitrogen', { exact: true }).fill('40');
  await page.getByRole('button', { name: 'urea', exact: true }).click();
  await page.getByRole('button', { name: 'Decide', exact: true }).click();
  await page.getByText('Rescue nitrogen, 40 lb/ac N, urea, by').waitFor();
  await page.goto(`${program.url}/hand-in`);
  await page.getByText('You can put the phone away.').or(page.getByText('farm server')).first().waitFor();
});

test('the scout sees what was decided, by whom and why', async () => {
  const { page } = scout;
  await page.goto(program.url);
  await toTheEnd(page);
  await page.getByRole('link', { name: fieldName }).first().click();
  await page.getByRole('heading', { name: 'Decided' }).waitFor({ timeout: 30_000 });
  await page.getByText('Rescue nitrogen, 40 lb/ac N, urea, by').waitFor();
  await page.getByText('bare at four spots, nothing else seen').waitFor();
  await page.getByText(/By Tamsin Okerlund/).waitFor();
  await page.getByRole('link', { name: 'How this was reached' }).first().click();
  await page.getByText(/Tamsin Okerlund has decided on it/).waitFor();
});
