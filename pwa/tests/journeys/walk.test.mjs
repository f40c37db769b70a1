// Out in a field: where to dig, with and without a position; an outline walked, marked and read from
// a file; many outlines at once at the desk.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { Browser, assertAccessible, desk, installed, phone, signIn } from '../browser.mjs';
import { Program } from '../server.mjs';
import { shapefile } from '../shapefile.mjs';
import { Digger } from './dig.mjs';

let program;
let browser;
let field;

before(async () => {
  program = await (await Program.make()).start('--demo');
  browser = await Browser.open(phone);
  await signIn(browser.page, program.url, program.signIn('scout'));
  await installed(browser.page);
  const link = browser.page.getByRole('link', { name: 'Spruce Edge' }).first();
  field = (await link.getAttribute('href')).split('/')[2];
});
after(async () => {
  await browser?.close();
  await program?.stop();
});

const spotKeys = (page) => page.locator('.spot-keys button');
const walk = async (page) => {
  await page.goto(`${program.url}/field/${field}/walk`);
  await spotKeys(page).first().waitFor();
};

/** Where the spots stand on the drawing. */
const drawn = (page) =>
  page.locator('.map-spot > circle:not(.map-reach)').evaluateAll((all) =>
    all.map((c) => `${c.getAttribute('cx')} ${c.getAttribute('cy')}`),
  );

test('without leave for a position the spots are there, and the same after a restart offline', async () => {
  const { page } = browser;
  await walk(page);
  const spots = await drawn(page);
  assert.equal(spots.length, await spotKeys(page).count());
  assert.ok(spots.length >= 5 && spots.length <= 10, `${spots.length} spots`);
  await assertAccessible(page, 'the walk');
  await browser.killAndReopen();
  await browser.context.setOffline(true);
  await walk(browser.page);
  assert.deepEqual(await drawn(browser.page), spots);
  await browser.context.setOffline(false);
});

test('more spots and fewer spots', async () => {
  const { page } = browser;
  await walk(page);
  const usual = await spotKeys(page).count();
  await page.getByRole('button', { name: 'More spots' }).tap();
  await spotKeys(page).nth(usual).waitFor();
  await page.getByRole('button', { name: 'Fewer spots' }).tap();
  await spotKeys(page).nth(usual).waitFor({ state: 'detached' });
});

test('with a position: how far and which way, and a rough one is said', async () => {
  const { page, context } = browser;
  await context.grantPermissions(['geolocation'], { origin: program.url });
  const spot = await placeOfSpot(page, 0);
  const south = { longitude: spot[0], latitude: spot[1] - 140 / 111250, accuracy: 6 };
  await context.setGeolocation(south);
  await walk(page);
  await spotKeys(page).first().tap();
  await page.getByText('140 m, north').waitFor();
  await page.getByText('true to about 6 m').waitFor();
  await context.setGeolocation({ ...south, accuracy: 75 });
  await page.getByText('Your position is rough').waitFor();
  await context.setGeolocation({ longitude: spot[0], latitude: spot[1], accuracy: 5 });
  await page.getByText('You are there').waitFor();
});

/** A spot in degrees, as the engine gives it, by the drawing's own scale. */
async function placeOfSpot(page, n) {
  await walk(page);
  return page.evaluate(
    ({ n }) => {
      const spot = document.querySelectorAll('.map-spot')[n];
      return [Number(spot.dataset.longitude), Number(spot.dataset.latitude)];
    },
    { n },
  );
}

test('the receiver rests once the screen is left', async () => {
  const { page } = browser;
  await page.addInitScript(() => {
    globalThis.watches = 0;
    const own = navigator.geolocation;
    const [watch, clear] = [own.watchPosition.bind(own), own.clearWatch.bind(own)];
    own.watchPosition = (...a) => (globalThis.watches++, watch(...a));
    own.clearWatch = (id) => (globalThis.watches--, clear(id));
  });
  await walk(page);
  await page.waitForFunction(() => globalThis.watches === 1);
  await page.locator('a.back').tap();
  await page.waitForFunction(() => globalThis.watches === 0);
});

test('a spot that is dug gets its tick, and the dig has its place', async () => {
  const { page } = browser;
  await walk(page);
  await spotKeys(page).nth(1).tap();
  await page.getByRole('button', { name: 'Dig at spot 2' }).tap();
  await new Digger(page).spot('good', 'good', 'poor');
  await walk(page);
  await page.getByRole('button', { name: 'Spot 2, dug today' }).waitFor();
  assert.equal(await page.locator('.map-tick').count(), 1);
});

test('a field without an outline tells how to spread the spots; its consultant walks one', async () => {
  await browser.close();
  browser = await Browser.open(phone);
  const { page, context } = browser;
  await signIn(page, program.url, program.signIn('consultant'));
  await installed(page);
  field = await addField(page, 'Bare Corner');
  await page.goto(`${program.url}/field/${field}/walk`);
  await page.getByText('Spread them by eye').waitFor();
  await assertAccessible(page, 'the walk without an outline');
  await context.grantPermissions(['geolocation'], { origin: program.url });
  await context.setGeolocation({ longitude: -106.3, latitude: 51.2, accuracy: 5 });
  await page.getByRole('link', { name: 'Make an outline' }).tap();
  await page.getByRole('button', { name: 'Begin to walk' }).tap();
  const corners = [
    [0, 0],
    [600, 0],
    [600, 500],
    [0, 500],
  ];
  for (const [from, [east, north]] of corners.entries()) {
    const [toEast, toNorth] = corners[(from + 1) % 4];
    for (let i = 0; i < 5; i++) {
      const e = east + ((toEast - east) * i) / 5;
      const n = north + ((toNorth - north) * i) / 5;
      const at = { longitude: -106.3 + e / 69900, latitude: 51.2 + n / 111260, accuracy: 5 };
      await context.setGeolocation(at);
      await page.getByText(`${from * 5 + i + 1} position`).waitFor();
    }
  }
  await page.getByRole('button', { name: 'Stop here' }).tap();
  // A kill in between takes nothing away.
  await page.goto(`${program.url}/field/${field}`);
  await page.getByRole('link', { name: 'Where to dig' }).waitFor();
  await page.goto(`${program.url}/field/${field}/outline`);
  await page.getByText('20 positions').waitFor();
  await page.getByText('74 ac').waitFor();
  await assertAccessible(page, 'the walked outline');
  await page.getByRole('button', { name: 'Keep this outline' }).tap();
  await page.getByRole('heading', { level: 1, name: 'Bare Corner', exact: true }).waitFor();
  await walk(page);
  assert.equal(await spotKeys(page).count(), 5);
});

async function addField(page, name) {
  await page.setViewportSize(desk);
  await page.goto(program.url);
  await page.getByRole('button', { name: 'Add a field' }).click();
  await page.getByLabel('Grower', { exact: true }).selectOption({ index: 1 });
  await page.getByLabel('Name of the field').fill(name);
  await page.getByRole('button', { name: 'Add the field' }).click();
  await page.getByRole('heading', { level: 2, name }).waitFor();
  await page.setViewportSize(phone);
  return new URL(page.url()).pathname.split('/')[2];
}

test('corners are tapped and typed, taken back, and a crossing is told with its place', async () => {
  const { page } = browser;
  await page.goto(`${program.url}/field/${field}/outline`);
  await page.getByRole('button', { name: 'Mark corners' }).tap();
  const map = page.locator('svg.map');
  for (const [x, y] of [
    [60, 60],
    [300, 60],
    [60, 300],
    [300, 300],
  ]) {
    await map.tap({ position: { x, y } });
  }
  await page.getByText('4 corners').waitFor();
  await page.getByText('Two sides cross near').waitFor();
  assert.equal(await page.getByRole('button', { name: 'Keep it in place' }).count(), 0);
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.getByText('3 corners').waitFor();
  await page.getByLabel('Corner, typed').fill('95, 10');
  await page.getByLabel('Corner, typed').press('Enter');
  await page.getByText('“95, 10” is no place').waitFor();
  await page.getByLabel('Corner, typed').fill('51.1995, -106.3');
  await page.getByLabel('Corner, typed').press('Enter');
  await page.getByText('4 corners').waitFor();
  await assertAccessible(page, 'corners');
  await page.getByRole('button', { name: 'Closer' }).tap();
});

const block = (west, south) => [
  [
    [west, south],
    [west + 0.01, south],
    [west + 0.01, south + 0.006],
    [west, south + 0.006],
    [west, south],
  ],
];
const shape = (name, coordinates) => ({
  type: 'Feature',
  properties: { name },
  geometry: { type: 'Polygon', coordinates },
});
const file = (name, text) => ({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(text) });
const collection = (...features) => JSON.stringify({ type: 'FeatureCollection', features });

test('a file with several shapes: which one; what cannot be read is named', async () => {
  const { page } = browser;
  await page.goto(`${program.url}/field/${field}/outline`);
  await page.getByRole('button', { name: 'From a file' }).tap();
  const input = page.locator('input[type=file]');
  await input.setInputFiles(file('a.json', '{"type":"Point"}'));
  await page.getByText('There is no Polygon or MultiPolygon in it').waitFor();
  await page.getByLabel('Outline, pasted as GeoJSON').fill('{"type":');
  await page.getByLabel('Outline, pasted as GeoJSON').press('Enter');
  await page.getByText('This is not GeoJSON').waitFor();
  const turned = block(-106.3, 51.21)[0].map(([a, b]) => [b, a]);
  await input.setInputFiles(
    file('b.json', collection(shape('One', block(-106.3, 51.2)), shape('Two', [turned]), shape('Bad', [[]]))),
  );
  await page.getByText('Shape 3: A ring needs at least 4 positions').waitFor();
  await page.getByText('115 ac').waitFor();
  await page.getByLabel('Which shape is this field?').selectOption({ label: 'Two' });
  await page.getByRole('button', { name: 'Turn them round' }).tap();
  await page.getByText('115 ac').waitFor();
  await assertAccessible(page, 'an outline from a file');
  await input.setInputFiles(file('c.kml', kml));
  await page.getByText('115 ac').waitFor();
  const [ring] = block(-106.3, 51.23);
  await input.setInputFiles({ ...file('d.zip', ''), buffer: shapefile(['Four'], [ring.toReversed()]) });
  await page.waitForTimeout(500);
  await page.getByText('115 ac').waitFor();
  await input.setInputFiles(file('e.zip', 'PK and nothing more'));
  await page.getByText('no shapefile that can be read').waitFor();
  await page.getByRole('button', { name: 'Keep it in place of the old one' }).tap();
  await page.getByRole('heading', { level: 1, name: 'Bare Corner', exact: true }).waitFor();
});

const kml = `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Placemark>
<name>Three</name><Polygon><outerBoundaryIs><LinearRing><coordinates>
-106.3,51.22 -106.29,51.22 -106.29,51.226 -106.3,51.226 -106.3,51.22
</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>`;

test('many outlines at the desk are matched by name and kept at once', async () => {
  const { page } = browser;
  await page.setViewportSize(desk);
  await page.goto(`${program.url}/outlines`);
  const text = collection(
    shape('spruce edge', block(-106.1, 51.3)),
    shape('NEW-BREAKING', block(-106.1, 51.31)),
    shape('Nobody’s', block(-106.1, 51.32)),
  );
  await page.locator('input[type=file]').setInputFiles(file('all.geojson', text));
  await page.getByRole('button', { name: 'Keep 2 outlines' }).waitFor();
  await assertAccessible(page, 'outlines from a file');
  await page.getByLabel('Field for Nobody’s').selectOption({ label: await labelOf(page, 'Bare Corner') });
  await page.getByRole('button', { name: 'Keep 3 outlines' }).click();
  await page.getByText(/3 outlines kept on this (phone|computer)/).waitFor();
  await page.getByText('At the farm server').waitFor();
  await page.goto(`${program.url}/field/${field}`);
  await page.locator('.panel .maps .map-field').first().waitFor();
});

const labelOf = (page, name) =>
  page.locator('select option', { hasText: name }).first().textContent();
