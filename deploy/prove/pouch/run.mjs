// The farm's phone against PouchDB in the same Chromium, over the same shaped link, with the same
// records; and both beside the floor, the records as one file.
//
//   cd deploy/prove/pouch && npm ci --ignore-scripts && node run.mjs [--records 10000] [--times 3]
//
// Prints a row for each: time on the clock, requests, bytes up and down, bytes a record.
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Link, shape } from './link.mjs';
import { floorPage, peerPage, pouch } from './pages.mjs';
import { Maker, account, day } from './records.mjs';
import { Farm, Floor, Peer, docOf } from './servers.mjs';

const pwa = createRequire(join(import.meta.dirname, '../../../pwa/package.json'));
const { chromium } = pwa('playwright-core');
const phones = 8;
const ofOneDay = 500;
const changed = 50;

const { values } = parseArgs({
  options: {
    records: { type: 'string', default: '10000' },
    times: { type: 'string', default: '3' },
    peer: { type: 'string', default: '1' },
    only: { type: 'string', default: 'ours,floor,peer' },
  },
});
const [records, times, peerTimes] = [values.records, values.times, values.peer].map(Number);

/** The client's own code, as one script. */
async function ourScript() {
  const { build } = await import(pathToFileURL(pwa.resolve('vite')).href);
  const entry = join(import.meta.dirname, 'ours.ts');
  const lib = { entry, formats: ['iife'], name: 'ours', fileName: 'ours' };
  const root = join(import.meta.dirname, '../../../pwa');
  const quiet = { configFile: false, logLevel: 'warn', publicDir: false };
  const made = await build({ ...quiet, root, build: { write: false, lib } });
  return [made].flat()[0].output[0].code;
}

/** A phone on a link of its own; its page comes past the link. */
async function phoneOn(browser, server, scripts, start) {
  const link = await Link.to(server.port);
  const context = await browser.newContext();
  const page = await context.newPage();
  page.setDefaultTimeout(300_000);
  const html = '<!doctype html><title>bench</title>';
  await page.route('**/bench', (route) => route.fulfill({ body: html, contentType: 'text/html' }));
  await page.goto(`${link.url}/bench`);
  await page.unroute('**/bench');
  for (const content of scripts) await page.evaluate(content);
  if (start) await page.evaluate(start);
  link.reset();
  return { page, link, close: () => context.close().then(() => link.close()) };
}

const rows = [];

function tell(side, what, ms, counts, count, parts) {
  const { requests, up, down } = counts;
  const each = ((up + down) / count).toFixed(0);
  rows.push({ side, what, s: +(ms / 1000).toFixed(2), requests, up, down, 'B/record': +each });
  console.log(JSON.stringify({ ...rows.at(-1), parts }));
}

async function measure(phone, side, what, count, work) {
  phone.link.reset();
  const { ms, records: have, parts } = await work();
  tell(side, what, ms, phone.link.counts(), count, parts);
  return have;
}

/** Several at once, each on its own link: the last one's time, the sum of the rest. */
async function together(list, side, what, count, work) {
  for (const { link } of list) link.reset();
  const took = await Promise.all(list.map(work));
  const sum = { requests: 0, up: 0, down: 0 };
  for (const { link } of list)
    for (const [name, n] of Object.entries(link.counts())) sum[name] += n;
  const last = took.reduce((a, b) => (b.ms > a.ms ? b : a));
  tell(side, what, last.ms, sum, count, last.parts);
}

/** What may still change: a closed dig never does. */
const changeable = ({ list }) => list.filter((e) => e.kind === 'soilTest').slice(-changed);

const expect = (have, wanted, what) => {
  if (have < wanted) throw new Error(`${what}: ${have} of ${wanted} records are there`);
};

async function ours(browser, farm, made, days) {
  const script = await ourScript();
  const join_ = async () => {
    const phone = await phoneOn(browser, farm, [script]);
    await phone.page.evaluate((who) => globalThis.bench.open(who), await farm.enrol('Phone'));
    phone.link.reset();
    return phone;
  };
  const sync = ({ page }) => page.evaluate(() => globalThis.bench.sync());
  let phone;
  for (let i = 0; i < times; i++) {
    await phone?.close();
    phone = await join_();
    const have = await measure(phone, 'ours', 'first load', made.list.length, () => sync(phone));
    expect(have, made.list.length, 'first load');
  }
  await measure(phone, 'ours', 'nothing new', 1, () => sync(phone));
  const edits = changeable(made);
  const set = { note: 'changed' };
  await farm.put(edits.map(({ rec, kind }) => ({ rec, kind, base: farm.head, set })));
  await measure(phone, 'ours', `${changed} changed`, changed, () => sync(phone));
  await phone.close();
  const list = [];
  for (const edits of days) {
    const one = await join_();
    await sync(one);
    await one.page.evaluate((e) => globalThis.bench.keep(e), edits.map((e) => ({ base: 0, ...e })));
    list.push(one);
  }
  await together(list, 'ours', `${phones} phones of ${ofOneDay}, up and down`, phones * ofOneDay, sync);
  for (const one of list) await one.close();
  const last = await join_();
  const { records: have } = await sync(last);
  await last.close();
  expect(have, made.list.length + phones * ofOneDay, 'after all days');
}

async function peer(browser, server, made, days, more) {
  const enter = () => phoneOn(browser, server, [pouch()], peerPage);
  const pull = (phone, options) =>
    phone.page.evaluate((o) => globalThis.bench.pull(o), options);
  let phone;
  for (let i = 0; i < peerTimes; i++)
    for (const size of [1000, 100]) {
      await phone?.close();
      phone = await enter();
      const options = { batch_size: size };
      const what = size === 100 ? 'first load' : `first load, batches of ${size}`;
      const have = await measure(phone, 'peer', what, made.list.length, () => pull(phone, options));
      expect(have, made.list.length, 'first load of the peer');
    }
  await measure(phone, 'peer', 'nothing new', 1, () => pull(phone, {}));
  await server.change(changeable(made).map((e) => e.rec), { note: 'changed' });
  await measure(phone, 'peer', `${changed} changed`, changed, () => pull(phone, {}));
  await phone.close();
  const push = ({ page }) => page.evaluate(() => globalThis.bench.push({}));
  const both = ({ page }) => page.evaluate(() => globalThis.bench.both({}));
  await eight('up only, from phones that hold nothing else', days, push);
  await eight('up and down', more, both, true);
  expect(await server.count(), made.list.length + 2 * phones * ofOneDay, 'the peer after all days');

  /** loaded: each has the account before, as a phone that comes home in the evening has it. */
  async function eight(what, days, work, loaded) {
    const list = await Promise.all(days.map(async (edits) => {
      const one = await enter();
      if (loaded) await pull(one, { batch_size: 1000 });
      await one.page.evaluate((docs) => globalThis.bench.keep(docs), edits.map(docOf));
      return one;
    }));
    const count = days.flat().length;
    await together(list, 'peer', `${phones} phones of ${ofOneDay}, ${what}`, count, work);
    for (const one of list) await one.close();
  }
}

async function floor(browser, server, made, days) {
  const enter = () => phoneOn(browser, server, [], floorPage);
  const pull = ({ page }, file) => page.evaluate((f) => globalThis.bench.pull(f), file);
  for (let i = 0; i < times; i++) {
    const phone = await enter();
    await measure(phone, 'floor', 'first load', made.list.length, () => pull(phone, 'all'));
    await phone.close();
  }
  const phone = await enter();
  await measure(phone, 'floor', 'nothing new', 1, () => pull(phone, 'none'));
  await measure(phone, 'floor', `${changed} changed`, changed, () => pull(phone, 'some'));
  await phone.close();
  const list = [];
  for (const edits of days) list.push(Object.assign(await enter(), { docs: edits.map(docOf) }));
  const push = ({ page, docs }) => page.evaluate((d) => globalThis.bench.push(d), docs);
  await together(list, 'floor', `${phones} phones of ${ofOneDay}, up only`, phones * ofOneDay, push);
  for (const one of list) await one.close();
}

const maker = new Maker(1);
const made = account(maker, records);
const eightDays = () => Array.from({ length: phones }, () => day(maker, ofOneDay, made.fields));
const days = eightDays();
const docs = made.list.map(docOf);
const mean = docs.reduce((sum, d) => sum + JSON.stringify(d).length, 0) / docs.length;
console.log(`${docs.length} records of ${mean.toFixed(0)} bytes as JSON in the mean; link ` +
  `${2 * shape.halfTripMS} ms, ${(shape.down * 8) / 1e6}/${(shape.up * 8) / 1e6} Mbit/s; ` +
  `${cpus().length} processors, load ${loadavg()[0].toFixed(1)} before`);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
});
const files = { all: docs, some: changeable(made).map(docOf), none: [] };
const wanted = values.only.split(',');
const servers = [];
try {
  if (wanted.includes('ours')) {
    const farm = await Farm.start(20_000 + (process.pid % 20_000));
    servers.push(farm);
    await farm.put(made.list);
    await ours(browser, farm, made, days);
  }
  if (wanted.includes('floor')) {
    servers.push(await Floor.start(files));
    await floor(browser, servers.at(-1), made, days);
  }
  if (wanted.includes('peer')) {
    servers.push(await Peer.start());
    await servers.at(-1).put(docs);
    await peer(browser, servers.at(-1), made, days, eightDays());
  }
  console.log(`load ${loadavg()[0].toFixed(1)} after`);
  console.table(rows);
} finally {
  await browser.close();
  for (const server of servers) await server.stop().catch(() => undefined);
}
