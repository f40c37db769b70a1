import { expect, test } from 'vitest';
import { Registry } from '../../src/db/registry';
import type { Known } from '../../src/db/schema';
import { Refused } from '../../src/net/api';
import { dropToken, freshToken, holdToken, withTokenOf } from '../../src/state/access';
import type { Session } from '../../src/wire.gen';

const known = (farm: string, login = 'ann'): Known => ({
  farm,
  person: 'p',
  device: `device-${farm}`,
  login,
  name: 'Ann',
  role: 'scout',
  accountName: farm,
  lastUsed: farm,
  signedOut: false,
});

const session = (access: string): Session =>
  ({ access, accessUntil: '2027-06-14T12:10:00Z', serverTime: '2027-06-14T12:00:00Z' }) as Session;

test('one person in two accounts under one name is known in both', async () => {
  const registry = new Registry();
  await Promise.all([known('one'), known('two'), known('three', 'bo')].map((k) => registry.put(k)));
  expect((await registry.withLogin(' Ann ')).map((k) => k.farm).sort()).toEqual(['one', 'two']);
  expect(await registry.withLogin('')).toEqual([]);
});

test('each account has a token of its own; one that ends takes no other with it', async () => {
  const [one, two] = [known('one'), known('two')];
  const arrived = () => Promise.resolve();
  holdToken(one, session('of-one'));
  holdToken(two, session('of-two'));
  expect(await freshToken(one, arrived)).toBe('of-one');
  expect(await freshToken(two, arrived)).toBe('of-two');
  dropToken(one);
  expect(await freshToken(two, arrived)).toBe('of-two');
});

test('a token that has just expired is renewed once; without one a person has to sign in', async () => {
  const asked: string[] = [];
  const tokens = ['old', 'new'];
  const expired = new Refused(401, { code: 'unauthorized', message: '' }, 0);
  const work = (access: string) => {
    asked.push(access);
    return access === 'old' ? Promise.reject(expired) : Promise.resolve(access);
  };
  const next = () => Promise.resolve(tokens.shift());
  expect(await withTokenOf(known('one'), next, work)).toBe('new');
  expect(asked).toEqual(['old', 'new']);
  await expect(withTokenOf(known('one'), next, work)).rejects.toMatchObject({ status: 401 });
  expect(asked.length).toBe(2);
});
