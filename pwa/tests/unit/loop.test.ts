import { expect, test } from 'vitest';
import { Refused, Unreachable } from '../../src/net/api';
import { waitMS } from '../../src/sync/backoff';
import { Loop, type Phase } from '../../src/sync/loop';
import { FarmServer } from './farm-server';
import { Phone } from './phone';

async function courier(answer: (phone: Phone) => (text: string) => Promise<never> | undefined) {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  const phases: Phase[] = [];
  const later: { ms: number; work: () => void }[] = [];
  const clock = { ms: 1_000_000 };
  const state = { signedIn: true, changed: 0 };
  const script = answer(phone);
  const loop = new Loop({
    ports: {
      store: phone.store,
      send: (text) => script(text) ?? Promise.resolve(server.answer(text)),
      now: () => '2027-06-14T12:00:00Z',
      newDevice: () => 'device-new',
    },
    lock: (work) => work(),
    ready: () => Promise.resolve(state.signedIn),
    clockMS: () => clock.ms,
    random: () => 0,
    later: (ms, work) => void later.push({ ms, work }),
    tell: (p) => void phases.push(p),
    changed: async () => void state.changed++,
    deviceChanged: async () => undefined,
  });
  return { server, phone, loop, phases, later, clock, state };
}

test('it says what it sends, and is idle after the answer', async () => {
  const c = await courier(() => () => undefined);
  await c.phone.keep('f1', { name: 'Home' });
  await c.loop.run();
  expect(c.phases[0]).toEqual({ at: 'sending', sending: 1, waiting: 1 });
  expect(c.phases.at(-1)).toEqual({ at: 'idle' });
  expect(c.server.rows.has('f1')).toBe(true);
});

test('no signal is a state, not an error, and is tried again later', async () => {
  const c = await courier(() => () => Promise.reject(new Unreachable()));
  await c.loop.run();
  expect(c.phases.at(-1)).toEqual({ at: 'offline' });
  expect(c.later.length).toBe(1);
});

test('a busy server is left alone for as long as it asks; a person may still ask at once', async () => {
  const problem = { code: 'busy', message: 'try later' };
  let requests = 0;
  const c = await courier(() => () => {
    requests++;
    return Promise.reject(new Refused(503, problem, 60_000));
  });
  await c.loop.run();
  expect(c.phases.at(-1)).toEqual({ at: 'busy', untilMS: c.clock.ms + 60_000 });
  await c.loop.run();
  expect(requests).toBe(1);
  await c.loop.run(true);
  expect(requests).toBe(2);
  c.clock.ms += 61_000;
  await c.loop.run();
  expect(requests).toBe(3);
});

test('a long backlog waits as often as the server asks, and no longer', async () => {
  let requests = 0;
  const c = await courier(() => () => {
    requests++;
    const fast = new Refused(429, { code: 'pace', message: 'wait' }, 3000);
    return requests % 2 === 0 ? Promise.reject(fast) : undefined;
  });
  const edit = (_: unknown, i: number) => ({ rec: `f${i}`, kind: 'field', base: 0, set: { name: `${i}` } });
  await c.phone.store.keep(Array.from({ length: 1500 }, edit), '2027-06-14T12:00:00Z');
  await c.loop.run();
  for (let i = 0; c.later[i]; i++) {
    expect(c.phases.at(-1)).toEqual({ at: 'busy', untilMS: c.clock.ms + 3000, pauseMS: 3000 });
    c.clock.ms += c.later[i]?.ms ?? 0;
    c.later[i]?.work();
    await c.loop.run();
  }
  expect(c.later.map((l) => l.ms)).toEqual([3000, 3000]);
  expect([c.server.rows.size, (await c.phone.store.waiting()).length]).toEqual([1500, 0]);
});

test('without a token nothing is sent and everything stays', async () => {
  const c = await courier(() => () => undefined);
  c.state.signedIn = false;
  await c.phone.keep('f1', {});
  await c.loop.run();
  expect(c.phases).toEqual([{ at: 'signIn' }]);
  expect(c.server.requests).toBe(0);
  expect((await c.phone.store.waiting()).length).toBe(1);
});

test('calls during a run make one more run, not many', async () => {
  const c = await courier(() => () => undefined);
  await Promise.all([c.loop.run(), c.loop.run(), c.loop.run()]);
  await new Promise((done) => setTimeout(done, 50));
  expect(c.server.requests).toBe(2);
});

test('waits double, with jitter below, up to five minutes', () => {
  const calm = () => 1;
  expect([1, 2, 3].map((n) => waitMS(n, 0, calm))).toEqual([2_000, 4_000, 8_000]);
  expect(waitMS(50, 0, calm)).toBe(300_000);
  expect(waitMS(1, 0, () => 0)).toBe(1_000);
  expect(waitMS(1, 45_000, calm)).toBe(45_000);
});
