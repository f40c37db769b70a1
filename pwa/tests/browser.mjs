// The browser of the journeys: Chromium with a profile on disk, so that it can be closed and
// opened again like a phone in a pocket.
import AxeBuilder from '@axe-core/playwright';
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const flags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--ignore-certificate-errors',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const phone = { width: 390, height: 844 };
export const desk = { width: 1440, height: 900 };

export class Browser {
  /** Options are Playwright's; flags among them go to the browser beside the usual ones. */
  constructor(viewport, { flags: more = [], ...options }) {
    Object.assign(this, { viewport, options, more, said: [] });
    this.profile = mkdtempSync(join(tmpdir(), 'hilum-profile-'));
  }

  static async open(viewport, options = {}) {
    const browser = new Browser(viewport, options);
    await browser.launch();
    return browser;
  }

  async launch() {
    this.context = await chromium.launchPersistentContext(this.profile, {
      executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
      headless: true,
      args: [...flags, ...this.more],
      viewport: this.viewport,
      ignoreHTTPSErrors: true,
      locale: 'en-CA',
      hasTouch: this.viewport.width < 900,
      ...this.options,
    });
    this.page = this.context.pages()[0] ?? (await this.context.newPage());
    this.page.setDefaultTimeout(20_000);
    this.page.on('pageerror', (error) => this.said.push(`page error: ${error.stack ?? error}`));
    this.page.on('console', (m) => {
      const wanted = m.type() === 'error' && !/Failed to load resource|ERR_|net::/.test(m.text());
      if (wanted) this.said.push(m.text());
    });
  }

  /** As the system does to an app in a pocket: no goodbye. */
  async killAndReopen() {
    await this.context.close();
    await this.launch();
  }

  async close() {
    await this.context.close();
    rmSync(this.profile, { recursive: true, force: true });
    assert.deepEqual(this.said, [], 'the page complained');
  }
}

export async function signIn(page, url, who) {
  await page.goto(url);
  await page.getByLabel(/Sign-in name|Nom d’utilisateur/).fill(who.login);
  await page.getByLabel(/^(Password|Mot de passe)$/).fill(who.password);
  await page.getByRole('button', { name: /^(Sign in|Se connecter)$/ }).click();
  await page.getByRole('heading', { level: 1, name: /Fields|Champs/ }).waitFor();
}

/** Goes to the end of the list of fields, which the program draws as its end comes near. */
export async function toTheEnd(page) {
  await page.locator('.state-main').waitFor(); // what stood before is the last sight, and ends early
  await page.locator('a[href^="/field/"]').first().waitFor();
  await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
}

/** Asks the page until the answer is true. Playwright's own waiting takes a promise for a yes. */
export async function until(page, ask, arg) {
  const [everyMS, patienceMS] = [100, 20_000];
  for (const end = Date.now() + patienceMS; Date.now() < end; await page.waitForTimeout(everyMS))
    if (await page.evaluate(ask, arg)) return;
  throw new Error(`the page never said yes to ${ask}`);
}

/** Waits until the program stands on the device and this page is run by it. */
export async function installed(page) {
  await until(page, async () => {
    const registration = await navigator.serviceWorker.ready;
    return registration.active?.state === 'activated' && !!navigator.serviceWorker.controller;
  });
}

/** Waits until the last sight of an address is kept for the next start. */
export const seen = (page, path) =>
  until(page, async (at) => !!(await (await caches.open('sights')).match(at)), path);

/** What axe finds by the rules of WCAG 2.2 AA, and text under 7 to 1. */
export async function axeFaults(page) {
  const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
  const axe = new AxeBuilder({ page });
  // Text at 7 to 1 (AAA): what is read in the sun needs more than the usual 4.5.
  const runOnly = { type: 'tag', values: tags };
  axe.options({ runOnly, rules: { 'color-contrast-enhanced': { enabled: true } } });
  // As tall as the page: a control half under the bar at the foot is a matter of scrolling only.
  const size = page.viewportSize();
  const whole = await page.evaluate(() => document.documentElement.scrollHeight);
  if (size) await page.setViewportSize({ width: size.width, height: Math.max(size.height, whole) });
  const { violations } = await axe.analyze();
  if (size) await page.setViewportSize(size);
  return violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(' | ')}`);
}

export async function assertAccessible(page, where) {
  assert.deepEqual(await axeFaults(page), [], `accessibility of ${where}`);
}
