// A consultant's winter evening: a soil test put right in place, the result following at once on
// the desk and then at the server; a bad value refused with its range; the grower's page printed.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, desk, signIn, until } from '../browser.mjs';
import { Program } from '../server.mjs';

let program;
let browser;

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(desk);
  await signIn(browser.page, program.url, program.signIn('consultant'));
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

const starter = (page) =>
  page.locator('.panel .answer', { hasText: 'Starter nitrogen' }).locator('.key');
const atServer = (page) =>
  page.getByText('the farm server has the same').waitFor({ timeout: 30_000 });

test('the result follows an edited soil test, here and at the server', async () => {
  const { page } = browser;
  await page.getByRole('link', { name: 'New Breaking', exact: true }).click();
  await atServer(page);
  const before = await starter(page).innerText();
  await page.getByLabel('Nitrate in layer 1').fill('60');
  await page.getByLabel('Nitrate in layer 1').press('Enter');
  await page.getByText('No starter', { exact: false }).first().waitFor();
  await page.waitForFunction((old) => {
    const answers = [...document.querySelectorAll('.panel .answer')];
    const key = answers
      .find((a) => a.textContent.includes('Starter nitrogen'))
      ?.querySelector('.key');
    return key && key.textContent !== old;
  }, before);
  await atServer(page);
  await page.reload();
  await atServer(page);
  assert.equal(await page.getByLabel('Nitrate in layer 1').inputValue(), '60');
});

test('a value out of range is refused with its range, and the old one stands', async () => {
  const { page } = browser;
  await page.getByLabel('Nitrate in layer 1').fill('60000');
  await page.getByLabel('Nitrate in layer 1').press('Enter');
  const alert = page.getByRole('alert').filter({ hasText: 'Not kept' });
  await alert.waitFor();
  assert.match(await alert.innerText(), /nitrate.*accepted 0 to|0 to 1,?000/i);
  await page.getByLabel('Nitrate in layer 1').fill('twelve');
  await page.getByLabel('Nitrate in layer 1').press('Enter');
  await page.getByText('“twelve” is not a number').waitFor();
  await page.reload();
  await atServer(page);
  assert.equal(await page.getByLabel('Nitrate in layer 1').inputValue(), '60');
});

const give = async (page, label, value) => {
  await page.getByLabel(label, { exact: true }).fill(value);
  await page.getByLabel(label, { exact: true }).press('Enter');
};

test('what is refused stays said beside its own box, whatever else is kept', async () => {
  const { page } = browser;
  const ph = page.getByLabel('pH of the top layer');
  const before = await ph.inputValue();
  await give(page, 'pH of the top layer', '55');
  const beside = page.locator('.entry', { has: ph }).getByRole('alert');
  await beside.filter({ hasText: 'Not kept: pH' }).waitFor();
  await give(page, 'Organic matter', '3.5');
  await atServer(page);
  assert.match(await beside.innerText(), /Not kept: pH.*still stands/);
  assert.equal(await ph.getAttribute('aria-invalid'), 'true');
  await give(page, 'Nitrate in layer 1', '');
  await page.getByText('this cannot be empty').waitFor();
  await give(page, 'Nitrate in layer 1', '60');
  await give(page, 'pH of the top layer', before);
  await page.getByText('Not kept').first().waitFor({ state: 'detached' });
});

test('one step back is one field back', async () => {
  const { page } = browser;
  const heading = (name) => page.getByRole('heading', { level: 2, name }).waitFor();
  await page.getByRole('link', { name: 'Railbed', exact: true }).click();
  await heading('Railbed');
  await page.goBack();
  await heading('New Breaking');
});

test('what the server would refuse is refused at the box, whatever grows on the field', async () => {
  const { page } = browser;
  await page.getByRole('link', { name: 'Willow Bend', exact: true }).click(); // canola this year
  await page.getByRole('heading', { level: 2, name: 'Willow Bend' }).waitFor();
  for (const [label, value] of [
    ['pH of the top layer', '99'],
    ['Expected yield', '99999'],
    ['Area', '200000'],
    ['Name of the field', 'n'.repeat(121)],
    ['Grower’s name', 'n'.repeat(121)],
    ['Sampled', '1900-01-01'],
  ]) {
    const box = page.getByLabel(label, { exact: true });
    const before = await box.inputValue();
    await give(page, label, value);
    const said = page.locator('.entry', { has: box }).getByRole('alert');
    await said.filter({ hasText: /Not kept: .* accepted/ }).waitFor();
    await give(page, label, before);
    await said.waitFor({ state: 'detached' });
  }
  // A sampling date of another year does not take the test out of sight.
  await give(page, 'Sampled', '2025-10-20');
  await page.getByText(/Sampled .*2025; it serves crop year/).waitFor();
  await page.getByRole('link', { name: 'New Breaking', exact: true }).click();
  await page.getByRole('heading', { level: 2, name: 'New Breaking' }).waitFor();
});

test('a unit chosen before its number goes with it; quick changes of one list are all kept', async () => {
  const { page } = browser;
  await page.getByLabel('Unit of Row spacing').selectOption('cm');
  await give(page, 'Row spacing', '25');
  await page.getByLabel('Time on the seed').waitFor();
  const asked = await page.evaluate(async () => {
    const box = (words) =>
      [...document.querySelectorAll('label')].find((l) => l.textContent.startsWith(words)).control;
    for (const [words, value] of [
      ['Time on the seed', '4'],
      ['Longest on the label', '12'],
    ]) {
      box(words).value = value;
      box(words).dispatchEvent(new Event('change', { bubbles: true }));
    }
    // As long as an edit is looked at, the browser is to ask before it lets the page go; then no more.
    const asks = () => !dispatchEvent(new Event('beforeunload', { cancelable: true }));
    const until = async (wanted) => {
      for (let i = 0; i < 2_000 && asks() !== wanted; i++)
        await new Promise((next) => setTimeout(next, 1));
      return asks() === wanted;
    };
    return [await until(true), await until(false)];
  });
  assert.deepEqual(asked, [true, true]);
  await page.locator('.kept:not(.waits)').waitFor();
  await atServer(page);
  await page.reload();
  await atServer(page);
  assert.equal(await page.getByLabel('Unit of Row spacing').inputValue(), 'cm');
  assert.equal(await page.getByLabel('Row spacing', { exact: true }).inputValue(), '25');
  assert.equal(await page.getByLabel('Time on the seed').inputValue(), '4');
  assert.equal(await page.getByLabel('Longest on the label').inputValue(), '12');
});

test('a layer is kept with its nitrate, not before', async () => {
  const { page } = browser;
  const of = page.getByLabel(/^Nitrate in layer/);
  const before = await of.count();
  await page.getByRole('button', { name: 'Add a layer' }).click();
  await page.getByText('is kept once its nitrate is typed').waitFor();
  await page.reload();
  await atServer(page);
  assert.equal(await of.count(), before);
  await page.getByRole('button', { name: 'Add a layer' }).click();
  await give(page, `Nitrate in layer ${before + 1}`, '7');
  await page.getByText('is kept once its nitrate is typed').waitFor({ state: 'detached' });
  await atServer(page);
  await page.reload();
  await atServer(page);
  assert.equal(await of.last().inputValue(), '7');
});

test('last year’s harvest is entered, and its balance follows; slips are refused at the box', async () => {
  const { page } = browser;
  await page.getByRole('link', { name: 'Bin Yard', exact: true }).click();
  const form = page.locator('.edit', { hasText: 'Harvest of 2026' });
  const net = form.locator('.leader', { hasText: 'fixed less nitrogen taken off' });
  const before = await net.innerText();
  await give(page, 'Protein of the seed', '90');
  await form.getByText('is 90, accepted 5 to 50 percent').waitFor();
  await give(page, 'Protein of the seed', '24');
  await form.getByText('Not kept').waitFor({ state: 'detached' });
  await give(page, 'Fertilizer nitrogen in all', '900');
  await form.getByText('is 900, accepted 0 to 400 lb/ac').waitFor();
  await give(page, 'Fertilizer nitrogen in all', '10');
  await form.getByText('Not kept').waitFor({ state: 'detached' });
  await until(page, (old) => !document.body.innerText.includes(old), before.split('\n').at(-1));
  await page.getByRole('link', { name: 'New Breaking', exact: true }).click();
  await atServer(page);
});

test('an inoculant and a fertilizer are kept once they are said, and once only', async () => {
  const { page } = browser;
  const counts = () =>
    page.evaluate(() => [...document.querySelectorAll('.panel button')].filter((b) => b.innerText === 'Take out').length);
  const before = await counts();
  await page.getByRole('button', { name: 'Add a fertilizer' }).click();
  await page.getByText('kept once product, rate and placement are said').waitFor();
  await page.reload();
  await atServer(page);
  assert.equal(await counts(), before, 'a fertilizer nobody described was kept');
  await page.getByRole('button', { name: 'Add an inoculant' }).click();
  const line = page.locator('.entries', { has: page.getByLabel('Condition') }).last();
  // Two values at once, the second while the first is still being looked at.
  await line.evaluate((entries) => {
    const give = (box, value) => {
      box.value = value;
      box.dispatchEvent(new Event('change', { bubbles: true }));
    };
    give(entries.querySelector('select'), 'peat');
    give(entries.querySelectorAll('input')[1], '5');
  });
  await page.getByText('It is kept once its form is said').waitFor({ state: 'detached' });
  await page.locator('.kept:not(.waits)').waitFor();
  await atServer(page);
  await page.reload();
  await atServer(page);
  assert.equal(await counts(), before + 1);
  assert.equal(await line.getByLabel('Form').inputValue(), 'peat');
  assert.equal(await line.getByLabel('Time on the seed').inputValue(), '5');
  assert.equal(await line.getByLabel('Condition').inputValue(), '', 'a condition nobody stated');
  await line.getByRole('button', { name: 'Take out' }).click();
});

test('rotation and plan are edited in place and reach the server', async () => {
  const { page } = browser;
  await page.getByLabel('Crop in 2023').selectOption('pea');
  await page.getByLabel('Inoculated in 2023').selectOption('yes');
  await page.getByLabel('Expected yield', { exact: true }).fill('50');
  await page.getByLabel('Expected yield', { exact: true }).press('Enter');
  await page.locator('.kept:not(.waits)').waitFor();
  await atServer(page);
  await page.reload();
  await atServer(page);
  assert.equal(await page.getByLabel('Crop in 2023').inputValue(), 'pea');
  assert.equal(await page.getByLabel('Expected yield', { exact: true }).inputValue(), '50');
});

test('a field is added with a new grower, named anew and put away', async () => {
  const { page } = browser;
  await page.getByRole('link', { name: 'Close' }).click();
  await page.getByRole('button', { name: 'Add a field' }).click();
  await page.getByLabel('Grower', { exact: true }).selectOption('new');
  await page.getByLabel('Name of the new grower').fill('Thistle Creek');
  await page.getByLabel('Name of the field').fill('Slough Eigth');
  await page.getByRole('button', { name: 'Add the field' }).click();
  await page.getByRole('heading', { level: 2, name: 'Slough Eigth' }).waitFor();
  await page.getByLabel('Name of the field').fill('Slough Eighth');
  await page.getByLabel('Name of the field').press('Enter');
  await page.getByRole('heading', { level: 2, name: 'Slough Eighth' }).waitFor();
  // A value given before the crop is kept, and says nothing of what grows.
  await give(page, 'Expected yield', '40');
  await page.locator('.kept:not(.waits)').waitFor();
  await page.getByText(/^No crop is entered for/).waitFor();
  assert.equal(await page.getByLabel('Crop', { exact: true }).inputValue(), '');
  await page.getByLabel('Crop', { exact: true }).selectOption('lentil');
  await page.getByText('Computed on this computer').waitFor();
  await page.getByRole('button', { name: 'Add a soil test' }).click();
  await page.getByLabel('Nitrate in layer 1').fill('8');
  // Nobody has said the day, nor what the pH was measured in: neither is made up.
  await page.getByRole('button', { name: 'Keep this soil test' }).click();
  await give(page, 'Sampled', '2026-10-20');
  await give(page, 'pH of the top layer', '6.4');
  await page.getByText('choose “pH measured in” as well').waitFor();
  await page.getByRole('button', { name: 'Keep this soil test' }).click();
  await page.getByLabel('pH measured in').selectOption('CaCl2');
  await page.getByRole('button', { name: 'Keep this soil test' }).click();
  await page.getByText('it serves crop year').waitFor();
  await atServer(page);
  await page.getByRole('button', { name: 'Put this field away' }).click();
  await page.getByRole('button', { name: 'Put away', exact: true }).click();
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.getByRole('link', { name: 'Slough Eighth' }).waitFor({ state: 'detached' });
  await page.getByText('At the farm server').waitFor();
});

test('what was put away is found by a search and brought back, a grower too', async () => {
  const { page } = browser;
  const field = page.getByRole('link', { name: 'Slough Eighth' });
  await page.getByLabel('Find a field or grower').fill('eighth');
  await field.click();
  await page.getByRole('button', { name: 'Bring this field back' }).click();
  await page.getByRole('button', { name: 'Put this grower away' }).click();
  await page.getByText('This grower and 1 field leave the lists').waitFor();
  await page.getByRole('button', { name: 'Put away', exact: true }).click();
  await page.getByLabel('Find a field or grower').fill('');
  await field.waitFor({ state: 'detached' });
  await page.getByText('1 grower put away').click();
  await page.getByRole('button', { name: 'Bring this grower back' }).click();
  await field.waitFor();
});

test('the table sorts by the chance of failure', async () => {
  const { page } = browser;
  await page.getByRole('button', { name: 'Chance of failure' }).click();
  await page.getByRole('button', { name: 'Chance of failure ↑' }).click();
  const first = page.locator('table.fields tbody tr').first();
  assert.match(await first.innerText(), /certain|[2-9]\sin|1\sin\s[2-9]\b/);
  // Areas by what they are and not by their number: 38 ha is more than 79 ac.
  const areas = () => page.locator('table.fields td.col-area').allInnerTexts();
  await page.getByRole('link', { name: 'Bin Yard', exact: true }).click();
  await page.getByLabel('Unit of Area').selectOption('ha');
  await page.locator('.kept:not(.waits)').waitFor();
  await page.getByRole('link', { name: 'Close', exact: true }).click();
  await page.getByRole('button', { name: 'Area' }).click();
  const sorted = await areas();
  assert.ok(sorted.indexOf('38 ha') > sorted.indexOf('79 ac'), sorted.join(', '));
  await assertAccessible(page, 'the table of fields');
});

test('what to order adds the plans up, and a field leads to its plan', async () => {
  const { page } = browser;
  await page.getByRole('link', { name: 'What to order' }).click();
  const sums = page.getByRole('table', { name: 'Inoculant' });
  await sums.getByRole('row', { name: /Field pea Peat \d \d{3}/ }).waitFor();
  await page.getByRole('table', { name: 'Starter nitrogen' }).getByText('Optional').waitFor();
  await assertAccessible(page, 'what to order');
  await page.getByRole('link', { name: 'Home Quarter' }).click();
  await page.getByRole('heading', { level: 2, name: 'Home Quarter' }).waitFor();
});

test('a rule of the account is chosen, and the balance of a harvest follows it', async () => {
  const { page } = browser;
  const credit = page.getByLabel('Nitrogen credit to the next crop');
  await page.getByRole('link', { name: 'Account' }).click();
  assert.equal(await credit.inputValue(), 'byZone');
  await credit.selectOption('flat40');
  await page.locator('.kept:not(.waits)').waitFor();
  await page.reload();
  await until(page, () => document.querySelector('option[value=flat40]:checked') !== null);
  await page.getByRole('link', { name: 'Fields', exact: true }).first().click();
  await page.getByRole('link', { name: 'Bin Yard', exact: true }).click();
  await page.locator('.leader', { hasText: 'Credit to the next crop' }).getByText(/^40.lb/).waitFor();
  await page.getByRole('link', { name: 'Close' }).click();
});

test('a scout is added, and the desk’s pages are accessible', async () => {
  const { page } = browser;
  await page.getByRole('link', { name: 'People' }).click();
  await page.getByLabel('Name', { exact: true }).fill('Ansel Quist');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  const ansel = page.getByRole('article').filter({ hasText: 'Ansel Quist' });
  await ansel.getByRole('button', { name: 'Code for a phone' }).click();
  await page.getByRole('img', { name: 'Code for the camera' }).waitFor();
  await assertAccessible(page, 'people');
  for (const path of ['/account', '/hand-in', '/settings', '/about']) {
    await page.goto(program.url + path);
    await page.locator('h1').waitFor();
    await assertAccessible(page, path);
  }
});

test('the list of fields is printed as it stands, every field and column of it', async () => {
  const { page } = browser;
  await page.goto(program.url);
  await page.getByRole('link', { name: 'Section Line', exact: true }).waitFor();
  await page.pdf({ format: 'Letter', preferCSSPageSize: true });
  assert.equal(await page.locator('table.fields').count(), 1, 'printing turned the desk into a phone');
  await page.emulateMedia({ media: 'print' });
  assert.equal(await page.getByLabel('Find a field or grower').isVisible(), false);
  assert.equal(await page.locator('table.fields .col-loss').first().isVisible(), true);
  await page.emulateMedia({ media: null });
});

test('the grower’s page fits one sheet and says how sure it is', async () => {
  const { page } = browser;
  await page.goto(program.url);
  const path = await page.getByRole('link', { name: 'New Breaking', exact: true }).getAttribute('href');
  await page.goto(`${program.url}${path}/paper`);
  await page.getByText('Where the numbers come from').waitFor();
  await page.getByText('The choices compared').waitFor();
  await assertAccessible(page, 'the grower’s page');
  const pdf = await page.pdf({ format: 'Letter', preferCSSPageSize: true });
  const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length;
  assert.equal(pages, 1);
});
