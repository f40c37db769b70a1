// One day in any browser engine: sign in, a dig, the page loaded again with the server dead, a second
// dig, the server back, and the stored result equal to the phone's. A driver does what a thumb can:
// open an address, tap, type, and look.
import assert from 'node:assert/strict';
import { plants } from '../journeys/dig.mjs';

const waitMS = 45_000;
const pollMS = 150;
/** Longer than the time within which a second tap is taken for a wet screen's. */
const betweenTapsMS = 100;

const sleep = (ms) => new Promise((done) => setTimeout(done, ms));

/** Waits until an expression of the page is true; says what stood there if it never is. */
async function until(driver, what, expression) {
  const end = Date.now() + waitMS;
  while (Date.now() < end) {
    if (await driver.look(`!!(${expression})`).catch(() => false)) return;
    await sleep(pollMS);
  }
  const stood = await driver.look('document.body.innerText').catch(String);
  throw new Error(`${driver.name}: ${what} never came; the page says:\n${stood}`);
}

const has = (text) => `document.body.innerText.includes(${JSON.stringify(text)})`;
const there = (selector) => `document.querySelector(${JSON.stringify(selector)})`;

async function tap(driver, selector) {
  await until(driver, selector, there(selector));
  await driver.tap(selector);
  await sleep(betweenTapsMS);
}

async function dig(driver, field, kinds) {
  await tap(driver, `a.line[href="/field/${field}"]`);
  await tap(driver, '.foot .loud:not(:disabled)'); // the engine first says that one may go in
  for (const kind of kinds)
    for (const answer of plants[kind])
      await tap(driver, `.keys:not([hidden]) [data-answer="${answer}"]`);
  await tap(driver, '.row button:nth-child(4)');
  await tap(driver, '.row .loud');
  await until(driver, 'the verdict', there('.stamp'));
}

async function fieldCalled(driver, name) {
  const found = `[...document.querySelectorAll('a.line')].find((a) => a.innerText.includes('${name}'))`;
  await until(driver, `the field ${name}`, found);
  return (await driver.look(`${found}.getAttribute('href')`)).split('/')[2];
}

/** What the server stored for a field, and the phone's own word on whether it has the same. */
async function assertEqualResult(driver, field) {
  await driver.open(`/field/${field}`);
  await until(driver, 'the same result', has('the farm server has the same'));
}

export async function day(driver, program) {
  const who = program.signIn('scout');
  await driver.open('/');
  await until(driver, 'the door', there('input[type=password]'));
  await driver.type('input[autocomplete=username]', who.login);
  await driver.type('input[type=password]', who.password);
  await tap(driver, 'form .loud');
  const first = await fieldCalled(driver, 'Spruce Edge');
  const second = await fieldCalled(driver, 'Dusty Forty');
  await until(driver, 'the worker of the program', 'navigator.serviceWorker.controller');
  await dig(driver, first, ['good', 'good', 'fair', 'poor', 'good']);
  await until(driver, 'the dig at the server', has('At the farm server'));

  await program.kill();
  await driver.open('/');
  await dig(driver, second, ['good', 'bare', 'poor', 'bare', 'poor']);
  await until(driver, 'one to send', has('1 to send'));

  await program.start('--demo');
  await driver.open('/hand-in');
  await sleep(1_000);
  if (await driver.look(there('a.loud[href="/sign-in"]') + ' !== null'))
    await signInAgain(driver, who);
  await until(
    driver,
    'the end of the day',
    has('You can put the phone away.') + ` || ${there('.loud')}`,
  );
  if (!(await driver.look(has('You can put the phone away.')))) await tap(driver, 'button.loud');
  await until(driver, 'the end of the day', has('You can put the phone away.'));
  await assertEqualResult(driver, first);
  await assertEqualResult(driver, second);
  assert.deepEqual(await driver.complaints(), []);
}

async function signInAgain(driver, who) {
  await driver.open('/sign-in');
  await until(driver, 'the door', there('input[type=password]'));
  await driver.type('input[type=password]', who.password);
  await tap(driver, 'form .loud');
  await driver.open('/hand-in');
}
