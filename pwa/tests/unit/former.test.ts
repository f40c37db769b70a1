// What a device brings again under another id.
import { expect, test } from 'vitest';
import { moved } from '../../src/db/former';
import type { Mutation } from '../../src/wire.gen';
import { FarmServer } from './farm-server';
import { Phone } from './phone';

const pushed = (text: string): Mutation[] => (JSON.parse(text) as { push: Mutation[] }).push;

test('an entry names its first place last, and keeps it through every move', () => {
  const m = { n: 12, schema: 1, rec: 'r', kind: 'dig', base: 0, set: { a: 1.5, é: '\u2028\ud800' } };
  const text = JSON.stringify({ ...m, phoneTime: 't' });
  const once = moved({ device: 'one', text }, 3);
  // The server puts these letters together again; see feed.formerOf.
  const rest = text.slice('{"n":12,'.length, -1);
  expect(once).toBe(`{"n":3,${rest},"was":{"device":"one","n":12}}`);
  const twice = moved({ device: 'two', text: once }, 7);
  expect(twice).toBe(once.replace('{"n":3,', '{"n":7,'));
  expect(moved({ device: '', text }, 12)).toBe(text);
});

test('after a restore all moves to one new id, in its order, if some had gone out before', async () => {
  const server = new FarmServer();
  const other = await Phone.start(server, 'z-first');
  await other.keep('theirs', { name: 'Theirs' });
  await other.sync();
  const phone = await Phone.start(server, 'z-first');
  await phone.keep('one', { name: 'One' });
  await phone.sync(); // number 1 is in use: it moves
  await phone.keep('two', { name: 'Two' });
  await phone.sync();
  await phone.store.becomeDevice('a-third'); // sorts before the id that it had until now
  await phone.keep('unsent', { name: 'Unsent' });
  server.restoreEmpty();
  const seen: string[] = [];
  const own = phone.network;
  phone.network = (text) => {
    const { epoch } = JSON.parse(text) as { epoch: string };
    const told = (m: Mutation) => `${m.n} ${m.rec} ${m.was?.device} ${m.was?.n}`;
    if (epoch === server.epoch) seen.push(...pushed(text).map(told));
    return own(text);
  };
  await phone.sync();
  const { device, formers } = await phone.store.state();
  const before = ['z-first', 'device-new-1', 'a-third'];
  const list = ['1 one z-first 1', '2 two device-new-1 2', '3 unsent a-third 1'];
  expect([seen, device, formers]).toEqual([list, 'device-new-2', before]);

  server.restoreEmpty();
  await phone.sync(); // nothing went out under a former id any more: the numbers stay
  expect((await phone.store.state()).device).toBe(device);
  expect([...server.rows.keys()]).toEqual(['one', 'two', 'unsent']);
});
