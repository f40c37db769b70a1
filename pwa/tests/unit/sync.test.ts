import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Refused, Unreachable } from '../../src/net/api';
import { FarmServer } from './farm-server';
import { Phone } from './phone';

const gone = () => Promise.reject(new Unreachable());
const problem = { code: 'unauthorized', message: 'sign in first' };

test('an edit is kept offline, sent once, and then stands in the base', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  phone.network = gone;
  await phone.keep('f1', { name: 'Home' });
  await expect(phone.sync()).rejects.toThrow(Unreachable);
  expect(await phone.body('f1')).toEqual({ name: 'Home' });
  phone.network = (text) => Promise.resolve(server.answer(text));
  await phone.sync();
  expect(await phone.store.waiting()).toEqual([]);
  expect(await phone.body('f1')).toEqual({ name: 'Home' });
  expect(server.rows.get('f1')?.body).toEqual({ name: 'Home' });
});

test('numbers are dense, and go on after a restart', async () => {
  const phone = await Phone.start(new FarmServer());
  await Promise.all([phone.keep('a', {}), phone.keep('b', {}), phone.keep('c', {})]);
  await phone.restart();
  await phone.keep('d', {});
  expect((await phone.store.waiting()).map((w) => w.n)).toEqual([1, 2, 3, 4]);
});

test('a lost answer is asked for again and takes effect once', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  await phone.keep('f1', { name: 'Home' });
  phone.network = (text) => {
    server.answer(text);
    return gone();
  };
  await expect(phone.sync()).rejects.toThrow(Unreachable);
  await phone.restart();
  phone.network = (text) => Promise.resolve(server.answer(text));
  await phone.sync();
  expect(server.head).toBe(1);
  expect(await phone.store.waiting()).toEqual([]);
});

test.each([401, 403, 408, 425, 429, 500, 503])(
  'status %i leaves the outbox alone',
  async (status) => {
    const phone = await Phone.start(new FarmServer());
    await phone.keep('f1', { name: 'Home' });
    const before = await phone.store.waiting();
    phone.network = () => Promise.reject(new Refused(status, problem, 0));
    await expect(phone.sync()).rejects.toThrow(Refused);
    expect(await phone.store.waiting()).toEqual(before);
  },
);

test('an unsent edit stays in view while the base changes under it', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  server.write('f1', 'field', { name: 'Home', note: 'wet corner' });
  await phone.sync();
  await phone.keep('f1', { name: 'Home Quarter' });
  server.write('f1', 'field', { note: 'wet corner, drained' });
  const own = phone.network;
  // Pull only: what waits is held back by the scripted network.
  phone.network = (text) => own(text.replace(/"push":\[.*\]/, '"push":[]'));
  await phone.store.state();
  const { round } = await import('../../src/sync/round');
  await round({
    store: phone.store,
    send: phone.network,
    now: () => '2027-06-14T09:00:00Z',
    newDevice: () => 'x',
    progress: () => undefined,
  });
  expect(await phone.body('f1')).toEqual({ name: 'Home Quarter', note: 'wet corner, drained' });
});

test('an answered edit stays in view until its row has come', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  for (let i = 0; i < 5; i++) server.write(`other${i}`, 'field', { name: `Other ${i}` });
  await phone.keep('mine', { name: 'Mine' });
  server.mostRows = 2;
  const seen: unknown[] = [];
  const whole = phone.network;
  phone.network = async (text) => {
    seen.push(await phone.body('mine'));
    return whole(text);
  };
  await phone.sync();
  expect(seen.length).toBeGreaterThan(2);
  for (const body of seen) expect(body).toEqual({ name: 'Mine' });
  expect((await phone.store.view()).size).toBe(6);
});

test('a refused record goes aside with its reason and blocks nothing', async () => {
  const server = new FarmServer();
  server.refuse.add('bad');
  const phone = await Phone.start(server);
  await phone.keep('bad', { area: -1 });
  await phone.keep('good', { name: 'Good' });
  await phone.sync();
  expect(await phone.store.waiting()).toEqual([]);
  expect(server.rows.has('good')).toBe(true);
  const aside = (await phone.store.sent()).filter((s) => s.outcome === 'quarantined');
  expect(aside.map((s) => s.problem?.field)).toEqual(['area.value']);
  expect(JSON.parse(aside[0]?.text ?? '{}')).toMatchObject({ rec: 'bad', set: { area: -1 } });
});

test('a restored server gets everything back that this phone still holds', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  await phone.keep('f1', { name: 'Home' });
  await phone.sync();
  await phone.keep('f2', { name: 'North' });
  server.restoreEmpty();
  await phone.sync();
  expect([...server.rows.keys()].sort()).toEqual(['f1', 'f2']);
  expect([...(await phone.store.view()).keys()].sort()).toEqual(['f1', 'f2']);
  expect(await phone.store.waiting()).toEqual([]);
});

test('a restored server is refilled by a phone that has nothing new to send', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  await phone.keep('f1', { name: 'Home' });
  await phone.sync();
  server.restoreEmpty();
  await phone.sync();
  expect(server.rows.get('f1')?.body).toEqual({ name: 'Home' });
});

test('a reset replaces the base and leaves the outbox', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  server.write('old', 'field', { name: 'Old' });
  await phone.sync();
  server.rows.delete('old');
  server.write('new', 'field', { name: 'New' });
  await phone.keep('mine', { name: 'Mine' });
  let resets = 1;
  const own = phone.network;
  phone.network = async (text) => {
    if (resets-- > 0) {
      return {
        epoch: server.epoch,
        head: 1,
        cursor: 0,
        serverTime: '',
        acks: [],
        rows: [],
        reset: true,
      };
    }
    return own(text);
  };
  await phone.sync();
  expect([...(await phone.store.view()).keys()].sort()).toEqual(['mine', 'new']);
});

test('a cloned phone takes a new device id and loses nothing', async () => {
  const server = new FarmServer();
  const first = await Phone.start(server, 'device-a');
  const copy = await Phone.start(server, 'device-a');
  await first.keep('from-first', { name: 'First' });
  await copy.keep('from-copy', { name: 'Copy' });
  await first.sync();
  await copy.sync();
  expect([...server.rows.keys()].sort()).toEqual(['from-copy', 'from-first']);
  expect((await copy.store.state()).device).toBe('device-new-1');
  expect(await copy.store.waiting()).toEqual([]);
});

test('a gap is filled from what was sent, else by a new device id', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  await phone.keep('f1', {});
  await phone.keep('f2', {});
  await phone.sync();
  server.taken.clear();
  server.lastN.clear();
  server.rows.clear();
  await phone.keep('f3', {});
  await phone.sync();
  expect([...server.rows.keys()].sort()).toEqual(['f1', 'f2', 'f3']);

  await phone.store.forget(-1);
  server.lastN.clear();
  server.taken.clear();
  await phone.keep('f4', {});
  await phone.sync();
  expect(server.rows.has('f4')).toBe(true);
  expect((await phone.store.state()).device).toBe('device-new-1');
});

test('a push the server cannot read is set apart, and pulls go on', async () => {
  const server = new FarmServer();
  const phone = await Phone.start(server);
  await phone.keep('ok', { name: 'Fine' });
  await phone.keep('poison', { name: 'POISON' });
  server.write('theirs', 'field', { name: 'Theirs' });
  const own = phone.network;
  phone.network = (text) =>
    text.includes('POISON') ? Promise.reject(new Refused(400, problem, 0)) : own(text);
  await phone.sync();
  expect(server.rows.has('ok')).toBe(true);
  expect(await phone.body('theirs')).toEqual({ name: 'Theirs' });
  expect((await phone.store.waiting()).length).toBe(1);
});

test('sent entries are let go after their time, open refusals are not', async () => {
  const server = new FarmServer();
  server.refuse.add('bad');
  const phone = await Phone.start(server);
  await phone.keep('bad', {});
  await phone.keep('good', {});
  await phone.sync();
  await phone.store.forget(-1);
  expect((await phone.store.sent()).map((s) => s.outcome)).toEqual(['quarantined']);
  await phone.store.markSeen('device-a', 1);
  await phone.store.forget(-1);
  expect(await phone.store.sent()).toEqual([]);
});

test('a clock of this device that jumps lets nothing go', async () => {
  const phone = await Phone.start(new FarmServer());
  await phone.keep('f1', {});
  phone.time = -500 * 86_400;
  await phone.sync();
  phone.time = 500 * 86_400;
  await phone.store.forget(30 * 86_400_000);
  expect((await phone.store.sent()).map((s) => s.at)).toEqual(['2027-06-14T12:00:00Z']);
});

test('whatever the network does, every edit arrives once', async () => {
  const weather = fc.array(fc.constantFrom('fine', 'lostRequest', 'lostAnswer', 'kill', 'edit'), {
    maxLength: 25,
  });
  await fc.assert(
    fc.asyncProperty(weather, async (days) => {
      const server = new FarmServer();
      const phone = await Phone.start(server);
      let edits = 0;
      for (const day of days) {
        if (day === 'edit') await phone.keep(`r${++edits}`, { name: `${edits}` });
        if (day === 'kill') await phone.restart();
        phone.network = (text) => {
          if (day === 'lostRequest') return gone();
          const answer = server.answer(text);
          return day === 'lostAnswer' ? gone() : Promise.resolve(answer);
        };
        await phone.sync().catch(() => undefined);
      }
      phone.network = (text) => Promise.resolve(server.answer(text));
      await phone.sync();
      expect(server.head).toBe(edits);
      expect((await phone.store.view()).size).toBe(edits);
      expect(await phone.store.waiting()).toEqual([]);
      await phone.store.close();
    }),
    { numRuns: 60 },
  );
});
