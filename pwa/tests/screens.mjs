// Every screen of the program and how it is reached: one list, walked by the measures of the
// hand and by the pictures. A new screen gets a line here. Lines of one list follow each other: the
// later ones stand on what the earlier ones did.
import { Browser, desk, installed, phone, signIn, toTheEnd } from './browser.mjs';
import { Digger } from './journeys/dig.mjs';

/** What a walker has in hand: the page, the server, the demo's fields, a thumb. */
export class Walk {
  constructor(browser, program) {
    Object.assign(this, { browser, program, page: browser.page, ids: {} });
    this.digger = new Digger(browser.page);
  }

  /** Goes to an address of the program and waits until nothing is being worked out. */
  async go(path) {
    await this.page.goto(this.program.url + path);
    await this.rest();
  }

  async rest() {
    await this.page.locator('h1').first().waitFor();
    await this.page.getByText(/Working it out|Calcul en cours/).waitFor({ state: 'detached' });
    await this.page.waitForTimeout(150);
  }

  answer(key) {
    return this.digger.tap(this.page.locator(`[data-answer="${key}"]`));
  }

  /** One of the keys at a dig's end, by the page it leads to, and back again first. */
  async more(page) {
    const back = this.page.getByRole('button', { name: /^(Back|Retour)$/ });
    if ((await back.count()) > 0) await this.digger.tap(back);
    await this.digger.tap(this.page.locator(`[data-page="${page}"]`));
  }

  /** A control of the dig's lowest row, from the left: undo, note, next spot, finish. */
  row(no) {
    return this.digger.tap(this.page.locator('.row button').nth(no));
  }

  offline(is) {
    return this.browser.context.setOffline(is);
  }

  /** A phone of another scout hands in what this server does not know: it is set aside. */
  async setAside() {
    const who = this.program.signIn('scout');
    await this.page.evaluate(async (who) => {
      const headers = { 'Content-Type': 'application/json', 'X-Hilum': '1' };
      const post = async (path, token, body) => {
        const auth = token ? { Authorization: `Bearer ${token}` } : {};
        const init = { method: 'POST', headers: { ...headers, ...auth }, body: JSON.stringify(body) };
        return (await fetch(`/api/v1/${path}`, init)).json();
      };
      const device = crypto.randomUUID();
      const { farm, access } = await post('signin', '', { ...who, device, deviceName: 'Phone' });
      const [rec, phoneTime] = [crypto.randomUUID(), new Date().toISOString()];
      const entry = { n: 1, schema: 99, rec, kind: 'weather', base: 0, set: { note: 'hail' }, phoneTime };
      const push = { proto: 1, schema: 1, device, epoch: '', cursor: 0, push: [entry] };
      await post(`farms/${farm}/sync`, access, push);
    }, who);
  }

  /** Opens every folded reason, so that what is under it is seen and measured too. */
  async unfold() {
    const folded = 'details:not([open]) > summary';
    while ((await this.page.locator(folded).count()) > 0)
      await this.page.locator(folded).first().click();
  }
}

const path = (name, to) => ({ name, reach: (w) => w.go(typeof to === 'string' ? to : to(w.ids)) });

const doors = [
  path('sign-in', '/'),
  path('first-owner', '/first-owner#none'),
  path('reset-access', '/reset-access#none'),
  path('enrol', '/enrol'),
  path('practice', '/practice'),
  {
    name: 'practice-dig',
    flow: true,
    reach: async (w) => {
      await w.page.locator('button.loud').click();
      await w.page.locator('[data-answer="vigorous"]').waitFor();
    },
  },
  path('practice-hand-in', '/hand-in'),
];

/** A dig from its first plant to the verdict. `flow` marks what has to lie under the thumb. */
const dig = [
  { ...path('dig-vigour', (ids) => `/field/${ids.plain}/dig`), flow: true },
  { name: 'dig-nodules', flow: true, reach: (w) => w.answer('vigorous') },
  { name: 'dig-inside', flow: true, reach: (w) => w.answer('over5') },
  { name: 'dig-position', flow: true, reach: (w) => w.answer('pink') },
  {
    name: 'dig-ten-plants',
    flow: true,
    reach: async (w) => {
      await w.answer('crownAndLateral');
      await w.digger.spot('good', 'fair', 'poor', 'good');
      await w.row(2);
      await w.digger.spot('good', 'bare', 'good', 'fair', 'good');
      await w.page.waitForTimeout(500);
    },
  },
  { name: 'dig-note', reach: (w) => w.row(1) },
  {
    name: 'dig-finish',
    flow: true,
    reach: async (w) => {
      await w.digger.tap(w.page.locator('.row .loud'));
      await w.row(3);
    },
  },
  { name: 'dig-stage', flow: true, reach: (w) => w.more('nodes') },
  { name: 'dig-causes', flow: true, reach: (w) => w.more('checks') },
  { name: 'dig-ground', reach: (w) => w.more('stand') },
  {
    name: 'dig-stand',
    flow: true,
    reach: async (w) => {
      await w.page.locator('.thumb input').nth(1).fill('10');
      await w.page.locator('.thumb input').nth(1).blur();
      await w.digger.tap(w.page.locator('.row .loud'));
      for (const key of ['[data-digit="2"]', '[data-digit="4"]', '[data-key="done"]'])
        await w.digger.tap(w.page.locator(key));
      await w.page.waitForTimeout(500);
    },
  },
  { name: 'dig-words', reach: (w) => w.more('words') },
  {
    name: 'verdict',
    reach: async (w) => {
      await w.digger.tap(w.page.getByRole('button', { name: /^(Back|Retour)$/ }));
      await w.digger.tap(w.page.locator('.row .loud'));
      await w.page.locator('.stamp').waitFor();
      w.ids.dug = new URL(w.page.url()).pathname;
      await w.rest();
    },
  },
  { name: 'verdict-reasons', reach: (w) => w.unfold() },
  path('correct', (ids) => `${ids.dug}/correct`),
];

const handIn = [
  path('hand-in-waiting', '/hand-in'),
  {
    name: 'hand-in-away',
    reach: async (w) => {
      await w.offline(false);
      await w.page.locator('button.loud').click();
      await w.page.getByText(/put the phone away|ranger le téléphone/).waitFor();
    },
  },
];

const own = [
  path('me', '/me'),
  path('look', '/look'),
  path('ready', '/ready'),
  path('settings', '/settings'),
  {
    name: 'settings-out',
    reach: (w) => w.page.getByRole('button', { name: /^(Sign out|Se déconnecter)$/ }).click(),
  },
  path('about', '/about'),
  path('model', '/model'),
  path('review', '/review'),
  path('sign-in-again', '/sign-in'),
  path('not-here', '/nowhere'),
  { ...path('sheet-blank', '/sheet'), print: true },
];

const field = [
  path('fields', '/'),
  path('field', (ids) => `/field/${ids.plain}`),
  { name: 'field-reasons', reach: (w) => w.unfold() },
  path('field-dug', (ids) => `/field/${ids.dugField}`),
  path('rescue', (ids) => `/field/${ids.dugField}/rescue`),
  { ...path('paper', (ids) => `/field/${ids.dugField}/paper`), print: true },
  { ...path('sheet', (ids) => `/field/${ids.dugField}/sheet`), print: true },
];

/** Made by a tap on one of the three ways, from the left. */
const way = (name, no) => ({ name, reach: (w) => w.page.locator('.picks button').nth(no).click() });

/** Where to dig, and the outline it stands on. */
const ground = [
  {
    name: 'walk',
    reach: async (w) => {
      await w.go(`/field/${w.ids.plain}/walk`);
      await w.page.locator('.spot-keys button').first().waitFor();
    },
  },
  { name: 'walk-why', reach: (w) => w.unfold() },
];
const making = [
  path('outline', (ids) => `/field/${ids.plain}/outline`),
  way('outline-walk', 0),
  way('outline-corners', 1),
  {
    name: 'outline-crossing',
    reach: async (w) => {
      const spots = [0.2, 0.2, 0.8, 0.8, 0.8, 0.2, 0.2, 0.8];
      const { width } = await w.page.locator('svg.map').boundingBox();
      for (let i = 0; i < spots.length; i += 2) {
        const position = { x: spots[i] * width, y: spots[i + 1] * width };
        await w.page.locator('svg.map').click({ position });
      }
      await w.page.locator('.outline-keep .error').waitFor();
    },
  },
  way('outline-file', 2),
];

/** The day's walk, what is put on a field, and the door that stays shut. */
const day = [
  {
    name: 'today',
    reach: async (w) => {
      await w.go('/today');
      await w.page.locator('.turn').first().waitFor();
      await w.page.getByText(/^(Working out|Encore)/).waitFor({ state: 'detached' });
    },
  },
  path('passes', (ids) => `/field/${ids.plain}/pass`),
  {
    name: 'pass-form',
    reach: (w) => w.page.getByRole('button', { name: /^(Add a pass|Ajouter un passage)$/ }).click(),
  },
  path('seeding', (ids) => `/field/${ids.plain}/seeding`),
  path('field-closed', (ids) => `/field/${ids.closed}`),
  path('dig-refused', (ids) => `/field/${ids.closed}/dig`),
];

/** In French the buttons have other words; both are asked for. */
const press = (w, en, fr) => w.page.getByRole('button', { name: new RegExp(`^(${en}|${fr})$`) });

const office = [
  path('people', '/people'),
  {
    name: 'people-code',
    reach: async (w) => {
      await press(w, 'Code for a phone', 'Code pour un téléphone').first().click();
      await w.page.locator('.letters').waitFor();
    },
  },
  path('account', '/account'),
  path('prices', '/prices'),
];

/** What only the owner sees: who did what, what was set aside, the second step. */
const owner = [
  path('people-owner', '/people'),
  {
    name: 'audit',
    reach: async (w) => {
      await w.go('/audit');
      await w.page.locator('.lines li').first().waitFor();
    },
  },
  {
    name: 'set-aside',
    reach: async (w) => {
      await w.setAside();
      await w.go('/review');
      await w.unfold();
    },
  },
  {
    name: 'second-step',
    reach: async (w) => {
      await w.go('/me');
      const form = w.page.locator('form').last();
      await form.locator('input').fill(keyOf(w.program, 'owner').password);
      await form.locator('button').click();
      await w.page.locator('form svg').waitFor();
    },
  },
];

/** Who walks, where, and through what. Nobody = not signed in. */
export const tours = [
  { who: 'nobody', place: 'phone', screens: doors },
  {
    who: 'scout',
    place: 'phone',
    screens: [
      ...field,
      ...ground,
      ...day,
      { name: 'offline', reach: (w) => w.offline(true), silent: true },
      ...dig,
      ...handIn,
      ...own,
    ],
  },
  {
    who: 'consultant',
    place: 'phone',
    screens: [...day, ...office, ...making, path('own-field', (ids) => `/field/${ids.plain}`)],
  },
  {
    who: 'consultant',
    place: 'desk',
    screens: [
      ...field,
      ...day,
      ...office,
      { ...path('order', '/order'), print: true },
      path('outlines', '/outlines'),
      ...making,
      ...own,
      path('hand-in', '/hand-in'),
    ],
  },
  { who: 'owner', place: 'phone', screens: owner },
  { who: 'owner', place: 'desk', screens: owner },
];

export const named = (tour) => `${tour.who}-${tour.place}`;

/** The demo prints the sign-in of those who walk and plan; its owner has the same password. */
const keyOf = (program, who) =>
  who === 'owner' ? { ...program.signIn('consultant'), login: 'owner' } : program.signIn(who);

async function fieldId(page, name) {
  return (await page.getByRole('link', { name }).first().getAttribute('href')).split('/')[2];
}

/** The account's units, as its desk sets them. */
export async function setUnits(program, units) {
  const browser = await Browser.open(desk);
  const { page } = browser;
  await signIn(page, program.url, program.signIn('consultant'));
  await page.goto(`${program.url}/account`);
  await page.getByLabel(/^(Units on screen|Unités à l’écran)$/).selectOption(units);
  await page.goto(`${program.url}/hand-in`);
  await page.getByText(/Nothing waits on this computer|Rien n’attend sur/).waitFor();
  await browser.close();
}

/** Dresses the program; needs an open page of it. */
export async function wear(page, { language, theme, size, hand }) {
  await page.evaluate(
    (wanted) => {
      for (const [key, value] of Object.entries(wanted))
        if (value) localStorage.setItem(`hilum.${key}`, value);
    },
    { language, theme, hand },
  );
  if (size) await page.setViewportSize(size);
  await page.reload();
}

/** Walks a tour in one language and calls visit(screen, walk) at every screen. */
export async function walkTour(program, tour, look, visit) {
  const viewport = tour.place === 'desk' ? desk : (look.size ?? phone);
  const { reducedMotion = 'no-preference' } = look;
  const browser = await Browser.open(viewport, { reducedMotion });
  const walk = new Walk(browser, program);
  await browser.page.goto(program.url);
  await wear(browser.page, look);
  if (tour.who !== 'nobody') {
    await signIn(browser.page, program.url, keyOf(program, tour.who));
    await toTheEnd(browser.page);
    await browser.page.getByRole('link', { name: 'New Breaking' }).first().waitFor();
    walk.ids.plain = await fieldId(browser.page, 'Spruce Edge');
    walk.ids.closed = await fieldId(browser.page, 'Railbed');
    walk.ids.dugField = await fieldId(browser.page, 'New Breaking');
    await installed(browser.page);
  }
  for (const screen of tour.screens) {
    await screen.reach(walk);
    if (!screen.silent) await visit(screen, walk);
  }
  await browser.close();
}
