// A phone with many records on it: how long from the tap to the list of fields, and to the day's walk
// by name and in its order, with the program open and the processor held to a quarter.
//
//   node deploy/prove/browser/fields.mjs [--records 50000] [--fields 500] [--times 9]
//
// The records are written into the store's own pages, as a load from the server leaves them.
import { loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { Browser, installed, phone, signIn } from '../../../pwa/tests/browser.mjs';
import { Program } from '../../../pwa/tests/server.mjs';

const slower = 4;
const { values } = parseArgs({
  options: {
    records: { type: 'string', default: '50000' },
    fields: { type: 'string', default: '500' },
    times: { type: 'string', default: '9' },
    profile: { type: 'boolean', default: false },
  },
});
const [records, fields, times] = [values.records, values.fields, values.times].map(Number);

/** In the page: copies of the account's own records, on new fields, until there are so many. */
async function fill({ records, fields }) {
  const done = (asked) =>
    new Promise((ok, failed) => {
      asked.onsuccess = () => ok(asked.result);
      asked.onerror = () => failed(asked.error);
    });
  const named = /^hilum-[0-9a-f-]{36}-[0-9a-f-]{36}$/;
  const { name } = (await indexedDB.databases()).find((d) => named.test(d.name));
  const db = await done(indexedDB.open(name));
  const tx = db.transaction(['page', 'sync'], 'readwrite');
  const rows = (await done(tx.objectStore('page').getAll())).flatMap((p) => p.rows);
  const of = (kind) => rows.filter((r) => r.kind === kind);
  const pick = (list, i) => list[i % list.length];
  const made = [];
  const places = Array.from({ length: fields }, (_, i) => {
    const from = pick(of('field'), i);
    const body = { ...from.body, name: `${from.body.name} ${i}` };
    return { ...from, id: crypto.randomUUID(), body };
  });
  made.push(...places);
  const own = rows.filter((r) => ['season', 'soilTest', 'dig', 'result'].includes(r.kind));
  for (let i = 0; made.length + rows.length < records; i++) {
    const from = pick(own, i);
    // A season and a result stand once for a field and a crop year.
    const turn = Math.floor(i / own.length);
    const back = ['season', 'result'].includes(from.kind) && turn >= fields / own.length ? turn : 0;
    const field = places[(i * 7 + turn) % fields].id;
    const cropYear = from.body.cropYear ? { cropYear: from.body.cropYear - (back % 6) } : {};
    made.push({ ...from, id: crypto.randomUUID(), body: { ...from.body, field, ...cropYear } });
  }
  const pages = new Map();
  for (const row of made) {
    const key = `${row.kind}/${row.body.cropYear ?? 0}`;
    pages.set(key, [...(pages.get(key) ?? []), row]);
  }
  for (const [key, list] of pages)
    for (let at = 0; at < list.length; at += 200)
      tx.objectStore('page').put({ key: `${key}/x${at}`, rows: list.slice(at, at + 200) });
  const state = await done(tx.objectStore('sync').get('state'));
  tx.objectStore('sync').put({ ...state, generation: state.generation + 1 }, 'state');
  await new Promise((ok) => (tx.oncomplete = ok));
  db.close();
  return made.length + rows.length;
}

/** In the page: from the tap until the first frame that has the list. */
const tapToList = () =>
  new Promise((done) => {
    const began = performance.now();
    const look = () => {
      if (document.querySelector('.lines a[href^="/field/"]'))
        return requestAnimationFrame(() => setTimeout(() => done(performance.now() - began)));
      requestAnimationFrame(look);
    };
    document.querySelector('a[href="/"]').click();
    look();
  });

/** In the page: from the tap until the day's fields stand there by name, and until in their order. */
const tapToToday = () =>
  new Promise((done) => {
    const began = performance.now();
    const since = () => Math.round(performance.now() - began);
    let named;
    const look = () => {
      const ordered = document.querySelector('.turn');
      if (ordered || document.querySelector('.lines a.line .field-name')) named ??= since();
      if (ordered) return requestAnimationFrame(() => setTimeout(() => done([named, since()])));
      requestAnimationFrame(look);
    };
    document.querySelector('a[href="/today"]').click();
    look();
  });

const middle = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];

const program = await (await Program.make()).start('--demo');
const browser = await Browser.open(phone);
try {
  const { page } = browser;
  page.setDefaultTimeout(180_000);
  await signIn(page, program.url, program.signIn('scout'));
  await page.locator('.lines a[href^="/field/"]').first().waitFor();
  await installed(page);
  const there = await page.evaluate(fill, { records, fields });
  await browser.context.setOffline(true);
  const devtools = await browser.context.newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: slower });
  const cold = Date.now();
  await page.goto(program.url);
  await page.locator('.lines a[href^="/field/"]').first().waitFor();
  const coldMS = Date.now() - cold;
  const took = [];
  for (let i = 0; i < times; i++) {
    await page.locator('.lines a[href^="/field/"]').nth(i).click();
    await page.locator('h1').waitFor();
    await page.waitForTimeout(1500);
    if (values.profile && i === times - 1) {
      await devtools.send('Profiler.enable');
      await devtools.send('Profiler.start');
    }
    took.push(Math.round(await page.evaluate(tapToList)));
  }
  if (values.profile) await tellProfile(await devtools.send('Profiler.stop'));
  const lines = await page.locator('.lines a[href^="/field/"]').count();
  const today = await page.evaluate(tapToToday);
  const found = { records: there, lines, coldMS, middleMS: middle(took), took, today };
  console.log(JSON.stringify({ ...found, load: loadavg()[0].toFixed(1) }));
} finally {
  await browser.close().catch((error) => console.error(error.message));
  await program.stop();
}

/** The functions with the most time of their own. */
function tellProfile({ profile }) {
  const self = new Map();
  profile.samples.forEach((id, i) => self.set(id, (self.get(id) ?? 0) + profile.timeDeltas[i]));
  const named = profile.nodes.map(({ id, callFrame: f }) => {
    return [(self.get(id) ?? 0) / 1000, `${f.functionName}:${f.lineNumber}:${f.columnNumber}`];
  });
  const sums = new Map();
  for (const [ms, name] of named) sums.set(name, (sums.get(name) ?? 0) + ms);
  const most = [...sums].sort((a, b) => b[1] - a[1]).slice(0, 15);
  for (const [name, ms] of most) console.log(`${ms.toFixed(0)} ms ${name}`);
}
