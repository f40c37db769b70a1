// What a form refuses before it is kept, because the server would.
import { beforeAll, expect, test, vi } from 'vitest';

let beyond: (typeof import('../../src/state/bound'))['beyond'];
let problemWords: (typeof import('../../src/state/problem'))['problemWords'];

beforeAll(async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  ({ beyond } = await import('../../src/state/bound'));
  ({ problemWords } = await import('../../src/state/problem'));
});

const says = (kind: string, set: Record<string, unknown>) => problemWords(beyond(kind, set));

test('a text has its length, blanks around it not counted', () => {
  expect(says('grower', { name: 'n'.repeat(121) })).toBe('Name: has 121 characters, accepted 1 to 120');
  expect(says('field', { name: ` ${'é'.repeat(120)} ` })).toBe('');
  expect(says('field', { name: '  ' })).toMatch(/has 0 characters/);
  expect(says('grower', { note: null })).toBe('');
});

test('an area lies within the bounds of its unit, said in plain digits', () => {
  const area = (value: number, unit: string) => says('field', { area: { value, unit } });
  expect(area(9999999, 'ac')).toBe('Area: is 9999999, accepted 0.01 to 100000 ac');
  expect(area(100000, 'ac')).toBe('');
  expect(area(40469, 'ha')).toMatch(/accepted 0.01 to 40468.564224 ha/);
  expect(area(0, 'ha')).toMatch(/is 0,/);
});

test('a time zone and a currency are what the server knows', () => {
  expect(says('settings', { timeZone: 'Mars' })).toBe('Time zone: is “Mars”; write it like America/Regina');
  expect(says('settings', { timeZone: '' })).toMatch(/write it like/);
  expect(says('settings', { timeZone: 'America/Regina', currency: 'CAD' })).toBe('');
  expect(says('settings', { currency: 'dollars' })).toMatch(/write it like CAD/);
});

test('what was seeded is held to the most of its unit', () => {
  expect(says('season', { seedDepth: { value: 55, unit: 'in' } })).toBe(
    'Seeding depth: is 55, accepted 0 to 8 in',
  );
  expect(says('season', { seedDepth: null, crop: 'pea' })).toBe('');
});
