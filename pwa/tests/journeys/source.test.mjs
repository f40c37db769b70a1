// A reader who doubts a figure: from wherever it is printed its source is two steps away, on the
// phone, at the desk and on the grower's page; and how our models were made is read without a link.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';

let program;
let browser;

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(phone);
  await signIn(browser.page, program.url, program.signIn('scout'));
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

/** Opens the working of each answer below a place; each must then show a source. */
async function everyAnswerHasItsSource(place) {
  const ways = place.locator('.how > summary', { hasText: 'How this was reached' });
  await ways.first().waitFor();
  assert.equal(await ways.count(), 3, 'risk, starter and inoculant say how they were reached');
  for (const way of await ways.all()) {
    await way.click();
    const behind = way.locator('..');
    await behind.locator('.sources li').first().waitFor();
    assert.match(await behind.locator('.sources li').first().innerText(), /\(.+\)$/);
  }
}

test('from a figure in the list of fields', async () => {
  const { page } = browser;
  await page.getByRole('link', { name: 'New Breaking' }).click(); // one
  await everyAnswerHasItsSource(page.locator('main')); // two
  await assertAccessible(page, 'a field with its working open');
});

test('from every figure among the reasons', async () => {
  const { page } = browser;
  const titles = /^(Nitrogen the young|Starter nitrogen, both|Rhizobia in the soil|The inoculants)/;
  const reasons = page.locator('details.reason', {
    has: page.locator('summary', { hasText: titles }),
  });
  for (const way of await reasons.locator('> summary').filter({ hasText: titles }).all())
    await way.click();
  const bare = await reasons.locator('.figure').evaluateAll((all) =>
    all
      .filter((f) => !/not known/i.test(f.textContent ?? ''))
      .filter((f) => !f.querySelector('details .sources li'))
      .map((f) => f.querySelector('.leader-label')?.textContent),
  );
  // What was typed times the guaranteed grade: there is no publication behind it.
  const typed = ['Nitrogen that comes with phosphate and sulphur'];
  assert.deepEqual(bare.filter((label) => !typed.includes(label)), [], 'figures without a source one step away');
});

test('how our models were made, without a network, in both languages', async () => {
  const { page, context } = browser;
  await installed(page);
  await context.setOffline(true);
  await page.locator('.to-model').first().click();
  await page.getByRole('heading', { level: 1, name: 'Model card of the agronomy engine' }).waitFor();
  const rows = await page.locator('.anchors tbody tr').count();
  assert.ok(rows > 50, `${rows} anchors`);
  await assertAccessible(page, 'the model card');
  await page.evaluate(() => localStorage.setItem('hilum.language', 'fr'));
  await page.reload();
  await page.getByRole('heading', { level: 1, name: 'Fiche du modèle agronomique' }).waitFor();
  assert.equal(await page.locator('.anchors tbody tr').count(), rows);
  await page.evaluate(() => localStorage.setItem('hilum.language', 'en'));
  await page.goto(`${program.url}/about`);
  await page.getByRole('link', { name: 'How our models were made' }).click();
  await page.getByRole('heading', { level: 1, name: 'Model card of the agronomy engine' }).waitFor();
  await context.setOffline(false);
});

test('from a figure at the desk and on the page for the grower', async () => {
  const { page } = browser;
  await page.setViewportSize(desk);
  await page.goto(program.url);
  await page.getByRole('link', { name: 'New Breaking', exact: true }).first().click(); // one
  await everyAnswerHasItsSource(page.locator('.panel')); // two
  await page.getByRole('link', { name: 'Page for the grower' }).click();
  const sources = page.locator('.paper-sources');
  await sources.waitFor();
  assert.match(await sources.innerText(), /\(.+\);/, 'the paper names its sources on the page itself');
});
