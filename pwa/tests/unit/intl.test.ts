// Numbers and dates are written here as the browser writes them for the same language.
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { numberIn, sortKey } from '../../src/state/intl';

const locales = ['en-CA', 'fr-CA'] as const;

test.each(locales)('%s: numbers as Intl writes them', (locale) => {
  const size = fc.oneof(
    fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((n) => Number(n.toPrecision(12))),
    fc.integer({ min: -2_000_000, max: 2_000_000 }).map((n) => n / 1_000),
  );
  const all = fc.property(size, fc.nat(3), fc.boolean(), (value, most, whole) => {
    const least = whole ? most : 0;
    const form = { maximumFractionDigits: most, minimumFractionDigits: least };
    const theirs = new Intl.NumberFormat(locale, form).format(value);
    // Intl has a minus before a nought; so has a small loss, rounded. A plain nought has none.
    if (!Object.is(value, -0)) expect(numberIn(locale, value, most, least)).toBe(theirs);
  });
  fc.assert(all, { numRuns: 2_000 });
});

const words = (lang: string) =>
  JSON.parse(
    readFileSync(new URL(`../../src/words/ui.${lang}.json`, import.meta.url), 'utf8'),
  ) as { [key: string]: string };

test.each(locales)('%s: months and weekdays as Intl names them', (locale) => {
  const of = words(locale.slice(0, 2));
  const part = (form: Intl.DateTimeFormatOptions, type: string, day: Date) =>
    new Intl.DateTimeFormat(locale, { ...form, timeZone: 'UTC' })
      .formatToParts(day)
      .find((p) => p.type === type)?.value;
  const months = Array.from({ length: 12 }, (_, i) => new Date(Date.UTC(2026, i, 12)));
  const sunday = Date.UTC(2026, 1, 1);
  const week = Array.from({ length: 7 }, (_, i) => new Date(sunday + i * 86_400_000));
  const long = { weekday: 'short', day: 'numeric', month: 'long' } as const;
  const short = { day: 'numeric', month: 'short' } as const;
  // An English month is short without a point, as its readers write it; a French one is not.
  const plain = (month = '') => (locale.startsWith('en') ? month.replace('.', '') : month);
  const said = {
    'date.months': months.map((day) => part(long, 'month', day)),
    'date.monthsShort': months.map((day) => plain(part(short, 'month', day))),
    'date.weekdays': week.map((day) => part(long, 'weekday', day)),
  };
  for (const [key, list] of Object.entries(said)) expect(of[key]?.split(' ')).toEqual(list);
});

test('names stand in the order of Intl', () => {
  const names = ['Field 10', 'Field 2', 'field 1', 'Étang', 'Easy', 'Fée 3', 'Fee 12', '7 North', '12 North'];
  const { compare } = new Intl.Collator('en-CA', { numeric: true });
  const ours = [...names].sort((a, b) => (sortKey(a) < sortKey(b) ? -1 : 1));
  expect(ours).toEqual([...names].sort(compare));
});
