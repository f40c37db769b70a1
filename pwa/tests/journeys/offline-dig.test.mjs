// A scout's day: sign in at the yard, dig with no signal and no server, the program killed in
// between; then home, and the server comes to the very same result.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, installed, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';
import { Digger } from './dig.mjs';

const fieldName = 'Spruce Edge';
let program;
let browser;

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(phone);
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

async function inField(page) {
  await page.getByRole('link', { name: fieldName }).click();
  await page.getByRole('heading', { level: 1, name: fieldName }).waitFor();
}

/** The stored result of a field as any other client reads it, byte for byte. */
async function storedResult(page, url, who, field, year) {
  return page.evaluate(
    async ({ url, who, field, year }) => {
      const json = { 'Content-Type': 'application/json', 'X-Hilum': '1' };
      const device = crypto.randomUUID();
      const body = JSON.stringify({ ...who, device, deviceName: 'Check' });
      const session = await (
        await fetch(`${url}/api/v1/signin`, { method: 'POST', headers: json, body })
      ).json();
      const path = `${url}/api/v1/farms/${session.farm}/fields/${field}/result?cropYear=${year}`;
      const res = await fetch(path, { headers: { Authorization: `Bearer ${session.access}` } });
      return res.text();
    },
    { url, who, field, year },
  );
}

/** Notes every answer that the page's engine thread gives. */
function listenToEngine() {
  const Native = Worker;
  globalThis.engineSaid = [];
  globalThis.Worker = class extends Native {
    constructor(...args) {
      super(...args);
      this.addEventListener('message', (e) => globalThis.engineSaid.push(e.data.reply));
    }
  };
}

/** The newest whole answer of the page's own engine: its hash and the report's bytes. */
async function saidByEngine(page) {
  const text = await page.evaluate(() =>
    globalThis.engineSaid.filter((s) => s?.includes('"ok"')).at(-1),
  );
  const { ok } = JSON.parse(text);
  const report = text.slice(text.indexOf('"report":') + '"report":'.length, -'}}'.length);
  const { inputHash, input } = ok;
  return { inputHash, report, cropYear: input.cropYear, digs: input.digs.length };
}

test('an offline dig survives a killed program and is the same at the server', async (t) => {
  const scout = program.signIn('scout');
  await signIn(browser.page, program.url, scout);
  await browser.page.getByRole('link', { name: fieldName }).waitFor();
  await installed(browser.page);
  await inField(browser.page);
  await browser.page.getByText('the farm server has the same').waitFor();
  const path = new URL(browser.page.url()).pathname;
  const field = path.split('/')[2];

  await program.kill();
  await browser.context.setOffline(true);
  await browser.killAndReopen();
  await browser.context.setOffline(true);
  await browser.page.goto(program.url);
  await browser.page.getByText('No signal: carry on').waitFor();
  await inField(browser.page);
  const digger = new Digger(browser.page);
  await digger.press('Dig roots here');
  await digger.spot('good', 'good', 'fair', 'poor', 'good');
  await digger.press('Next spot');
  await digger.spot('good', 'bare');
  await digger.tap(browser.page.locator('[data-answer="vigorous"]'));
  await browser.page.getByText('Kept on this phone').waitFor();
  await browser.page.waitForTimeout(300);

  await browser.killAndReopen();
  await browser.context.setOffline(true);
  await browser.page.goto(program.url);
  await browser.page.getByRole('link', { name: `Go on in ${fieldName} (7 plants)` }).click();
  await browser.page.getByText('Spot 2, plant 3').waitFor();
  await browser.page.getByText('How many clusters of nodules?').waitFor();
  const back = new Digger(browser.page);
  back.taps = digger.taps;
  for (const answer of ['over5', 'pink', 'crownAndLateral']) {
    await back.tap(browser.page.locator(`[data-answer="${answer}"]`));
  }
  await back.spot('fair', 'poor');
  await back.press('Next spot');
  await back.spot('good', 'fair', 'good', 'bare', 'good');
  await browser.page.getByText('Spot 3, plant 6').waitFor();
  await back.press('Finish');
  await back.press('Done');
  t.diagnostic(`taps for 15 plants at 3 spots: ${back.taps}`);
  await browser.page.getByText('Provisional, until the consultant has confirmed it').waitFor();
  await assertAccessible(browser.page, 'the verdict');

  await browser.page.getByRole('link', { name: '1 to send' }).click();
  await browser.page.getByRole('heading', { name: 'Only on this phone' }).waitFor();
  await browser.page.addInitScript(listenToEngine);
  await browser.page.goto(`${program.url}${path}`);
  await browser.page.getByText('from what is not yet sent').waitFor();
  const onPhone = await saidByEngine(browser.page);

  await program.start('--demo');
  await browser.context.setOffline(false);
  await browser.page.getByRole('link', { name: /to send|No signal/ }).click();
  await browser.page.getByRole('button', { name: 'Send now' }).click();
  await browser.page.getByText('You can put the phone away.').waitFor({ timeout: 30_000 });
  const text = await storedResult(browser.page, program.url, scout, field, onPhone.cropYear);
  const stored = JSON.parse(text);
  assert.equal(stored.result.inputHash, onPhone.inputHash);
  assert.equal(stored.report.digs.length, onPhone.digs);
  assert.ok(text.includes(`"report":${onPhone.report}`), 'the stored report has the phone’s bytes');

  await browser.page.goto(`${program.url}${path}`);
  await browser.page.getByText('the farm server has the same').waitFor();
});
