import { beforeAll, expect, test, vi } from 'vitest';

let unit: typeof import('../../src/state/unit');
let words: typeof import('../../src/state/words');

beforeAll(async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  words = await import('../../src/state/words');
  unit = await import('../../src/state/unit');
});

/** A chance stays on one line: its spaces do not break. */
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

test.each([
  [0.2, '1 in 5'],
  [0.0801, '1 in 12'],
  [0.34, '1 in 3'],
  [0.5, '1 in 2'],
  [0.68, '2 in 3'],
  [0.951, '19 in 20'],
  [0.001, 'under 1 in 100'],
  [0.999, 'nearly certain'],
  [0, 'under 1 in 100'],
  [1, 'nearly certain'],
])('a chance of %d is said as %s', (p, said) => {
  expect(plain(unit.chanceWords(p))).toBe(said);
});

test('a range is said with both ends, or by its other end where one is open', () => {
  expect(plain(unit.chanceRange(0.2, 0.083, 0.33))).toBe('about 1 in 5, between 1 in 12 and 1 in 3');
  expect(plain(unit.chanceRange(0.03, 0.001, 0.05))).toBe('about 1 in 30, at most 1 in 20');
  expect(plain(unit.chanceRange(0.001, 0.0001, 0.02))).toBe('at most 1 in 50');
  expect(plain(unit.chanceRange(0.8, 0.5, 0.999))).toBe('about 4 in 5, at least 1 in 2');
  expect(plain(unit.chanceRange(0.5, 0.001, 0.999))).toBe(
    'about 1 in 2, from under 1 in 100 to nearly certain',
  );
  expect(plain(unit.chanceShort(0.03, 0.001, 0.08))).toBe('1 in 30 (at most 1 in 12)');
  expect(plain(unit.chanceShort(0.01, 0.001, 0.01))).toBe('at most 1 in 100');
  expect(plain(unit.chanceShort(0.2, 0.083, 0.33))).toBe('1 in 5 (1 in 12 to 1 in 3)');
  expect(plain(unit.chanceRange(0.2, 0.2, 0.2))).toBe('about 1 in 5');
});

test('rates are shown in the units a person thinks in', () => {
  // 1 lb/ac = 1.12085 kg/ha, exact to five places from the definitions of pound and acre.
  expect(unit.inSystem(100, 'lb/ac', 'metric')[0]).toBeCloseTo(112.085, 3);
  // 40 bu/ac of 60 lb = 2,690.0 kg/ha.
  expect(unit.inSystem(40, 'bu/ac', 'metric')[0]).toBeCloseTo(2690.04, 1);
  expect(unit.inSystem(100, 'lb/ac', 'imperial')).toEqual([100, 'lb/ac']);
  expect(unit.showAmount(0.9, '$/ac')).toBe('$0.90/ac');
  expect(unit.showAmount(14.2, '$/ac')).toBe('$14/ac');
});

test('a typed number is read with comma or gap, and nothing else passes for one', async () => {
  const { parseNumber } = await import('../../src/ui/form');
  expect(parseNumber('12,5')).toBe(12.5);
  expect(parseNumber(' 1 200 ')).toBe(1200);
  expect(parseNumber('-3')).toBe(-3);
  for (const bad of ['', 'twelve', '1e9', '1,2,3', '0x10', '--1', 'NaN']) {
    expect(parseNumber(bad), bad).toBeNaN();
  }
});

test('dates carry the year only where it is not this one', () => {
  expect(words.showDate('1999-06-14')).toBe('Mon\u00a014\u00a0June 1999');
  expect(words.showDate('not a date')).toBe('not a date');
});
