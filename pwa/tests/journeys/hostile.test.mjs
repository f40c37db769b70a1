// Fifty strings that want to be run, in every place where a person writes: names and notes of
// growers, fields, seasons, soil tests, digs, passes and people, and the account's own name. They are shown as written, on every screen
// and on paper; none runs, the content policy has nothing to report, nobody else's host is asked.
import assert from 'node:assert/strict';
import { randomUUID } from 'node:crypto';
import { after, before, test } from 'node:test';
import { Browser, desk, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';

const run = 'window.ran=1';
const strings = [
  `<script>${run}</script>`, `"><script>${run}</script>`, `</title><script>${run}</script>`,
  `</textarea><script>${run}</script>`, `<img src=x onerror=${run}>`, `"><img src=x onerror="${run}">`,
  `'><img src=x onerror='${run}'>`, `<svg onload=${run}>`, `<svg><script>${run}</script></svg>`,
  `<svg><animate onbegin=${run} attributeName=x dur=1s>`, `<body onload=${run}>`,
  `<iframe srcdoc="<script>parent.ran=1</script>">`, `<iframe src="javascript:parent.ran=1">`,
  `<a href="javascript:${run}">tap</a>`, `javascript:${run}`, `data:text/html,<script>${run}</script>`,
  `<details open ontoggle=${run}>`, `<input autofocus onfocus=${run}>`, `<select autofocus onfocus=${run}>`,
  `<video><source onerror=${run}></video>`, `<audio src=x onerror=${run}>`, `<object data="javascript:${run}">`,
  `<embed src="javascript:${run}">`, `<meta http-equiv=refresh content="0;url=https://evil.example">`,
  `<link rel=stylesheet href=https://evil.example/x.css>`, `<style>@import url(https://evil.example)</style>`,
  `<div style="background:url(https://evil.example)">`, `<img src=https://evil.example/x.png>`,
  `<base href=https://evil.example/>`, `<form action=https://evil.example><button>go`,
  `<math><mtext><img src=x onerror=${run}></mtext></math>`, `<!--><script>${run}</script>-->`,
  `<![CDATA[<script>${run}</script>]]>`, `\${${run}}`, `{{constructor.constructor('${run}')()}}`,
  `{name}`, `%3Cscript%3E${run}%3C/script%3E`, `&lt;script&gt;${run}&lt;/script&gt;`,
  `\\u003cscript\\u003e${run}\\u003c/script\\u003e`, `' OR 1=1 --`, `'; DROP TABLE record; --`,
  `"; ${run}; "`, `'-${run}-'`, `*/${run}/*`, `=HYPERLINK("https://evil.example")`, `\u202Eevil\u202C`,
  `__proto__`, `constructor`, `<noscript><p title="</noscript><img src=x onerror=${run}>">`, `../../etc/passwd`,
];

let program;
let office;
let field;

/** The account over the wire, as a program without a key. */
class Wire {
  constructor(request) {
    Object.assign(this, { request, device: randomUUID(), n: 0, push: [] });
  }

  async post(path, data) {
    const headers = this.access ? { Authorization: `Bearer ${this.access}` } : {};
    const res = await this.request.post(program.url + path, { data, headers });
    assert.ok(res.ok(), `${path}: ${res.status()} ${await res.text()}`);
    return res.json();
  }

  async signIn(who) {
    const body = { ...who, device: this.device, deviceName: strings[0] };
    Object.assign(this, await this.post('/api/v1/signin', body));
  }

  set(rec, kind, set, base = 0) {
    const phoneTime = new Date().toISOString();
    this.push.push({ n: ++this.n, schema: 1, rec, kind, base, set, phoneTime });
  }

  sync(cursor = 0) {
    const [push, device] = [this.push, this.device];
    this.push = [];
    const body = { proto: 1, schema: 1, device, epoch: '', cursor, push };
    return this.post(`/api/v1/farms/${this.farm}/sync`, body);
  }
}

const fields = [];

/** Puts every string somewhere, five a field. */
async function spoil(wire) {
  const { rows } = await wire.sync();
  const of = (kind) => rows.filter((r) => r.kind === kind && !r.deleted);
  const chosen = of('field').slice(0, 10);
  chosen.forEach((f, i) => {
    const [a, b, c, d, e] = strings.slice(i * 5, i * 5 + 5);
    fields.push(f.id);
    wire.set(f.id, 'field', { name: a, note: b }, f.seq);
    const season = of('season').find((s) => s.body.field === f.id);
    if (season) wire.set(season.id, 'season', { note: c }, season.seq);
    const soil = of('soilTest').find((s) => s.body.field === f.id);
    if (soil) wire.set(soil.id, 'soilTest', { note: d }, soil.seq);
    const grower = of('grower')[i % of('grower').length];
    wire.set(grower.id, 'grower', { name: e, note: a }, grower.seq);
    // A dig with its note and what stands of it on the day's walk; a pass with a product's name.
    const cropYear = season?.body.cropYear;
    const plants = [{ id: randomUUID(), vigour: 'pale', nodules: 'none', position: 'none' }];
    const spots = [{ id: randomUUID(), note: b, plants }];
    if (season) {
      const of = { field: f.id, cropYear, date: `${cropYear}-06-12` };
      wire.set(randomUUID(), 'dig', { ...of, note: c, weeds: d, spots });
      wire.set(randomUUID(), 'pass', { ...of, what: 'herbicide', product: e, note: a });
    }
  });
  const settings = of('settings')[0];
  wire.set(settings.id, 'settings', { name: strings[4] }, settings.seq);
  const { acks } = await wire.sync(1);
  const refused = acks.filter((k) => k.outcome === 'quarantined');
  assert.deepEqual(refused, [], 'what a person may write was refused');
  for (const name of strings.slice(0, 5))
    await wire.post(`/api/v1/farms/${wire.farm}/people`, { name, role: 'scout' });
}

/** Watches a browser for anything that runs, is reported, or goes elsewhere. */
async function watch(browser) {
  browser.hits = [];
  await browser.context.addInitScript(() => {
    addEventListener('securitypolicyviolation', (e) => {
      window.reported = `${e.violatedDirective} ${e.blockedURI} ${e.sample}`;
    });
  });
  browser.page.on('dialog', (d) => browser.hits.push(`dialog ${d.message()}`) && d.dismiss());
  browser.page.on('request', (r) => {
    const local = r.url().startsWith(program.url) || /^(blob|data):/.test(r.url());
    if (!local) browser.hits.push(`asked ${r.url()}`);
  });
}

async function walk(browser, paths) {
  const { page } = browser;
  for (const path of paths) {
    await page.goto(program.url + path);
    await page.locator('h1').first().waitFor();
    await page.waitForTimeout(300);
    const [ran, reported] = await page.evaluate(() => [window.ran, window.reported]);
    if (ran !== undefined || reported !== undefined) browser.hits.push(`${path}: ${ran} ${reported}`);
  }
}

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

test('fifty hostile strings are shown and never run', async () => {
  assert.equal(strings.length, 50);
  const wire = new Wire(office.context.request);
  await wire.signIn(program.signIn('consultant'));
  await spoil(wire);
  await watch(office);
  await watch(field);
  await signIn(office.page, program.url, program.signIn('consultant'));
  await office.page.getByText(strings[0]).first().waitFor();
  const of = (ids, ends) => ids.flatMap((id) => ends.map((end) => `/field/${id}${end}`));
  const every = of(fields, ['', '/paper', '/sheet', '/pass']);
  every.push(...of(fields.slice(0, 4), ['/rescue', '/walk', '/seeding']));
  const plain = ['/', '/people', '/account', '/review', '/look', '/settings', '/me', '/about'];
  plain.push('/hand-in', '/audit', '/sheet', '/ready', '/today', '/outlines', '/prices');
  await walk(office, [...plain, ...every]);
  await signIn(field.page, program.url, program.signIn('scout'));
  const small = [...of(fields, ['', '/dig']), ...of(fields.slice(0, 4), ['/walk'])];
  await walk(field, ['/', ...small, '/today', '/hand-in', '/settings', '/me']);
  assert.deepEqual([...office.hits, ...field.hits], []);
});
