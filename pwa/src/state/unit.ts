// Units for showing only: an amount in the units a person thinks in. Storage and engine keep theirs.
import type { Quantity } from '../wire.gen';
import { numberIn } from './intl';
import { settings } from './records';
import { locale, showNumber, showUnit, t, writeAmountsBy, type Key } from './words';

/** 1 lb = 0.45359237 kg and 1 acre = 0.40468564224 ha, exact (yard and pound agreement, 1959). */
const kgPerLb = 0.45359237;
const haPerAcre = 0.40468564224;
/** 1 international mile = 1.609344 km, exact. */
const kmPerMile = 1.609344;
/** Pounds in a bushel of pea or lentil, as "bu/ac" is meant throughout this program. */
const lbPerBushel = 60;

type Rule = readonly [factor: number, unit: string];

const metric: Readonly<{ [unit: string]: Rule }> = {
  'lb/ac': [kgPerLb / haPerAcre, 'kg/ha'],
  'lb/ac N': [kgPerLb / haPerAcre, 'kg/ha N'],
  'lb/ac NO3-N': [kgPerLb / haPerAcre, 'kg/ha NO3-N'],
  'bu/ac': [(lbPerBushel * kgPerLb) / haPerAcre, 'kg/ha'],
  '$/ac': [1 / haPerAcre, '$/ha'],
  mi: [kmPerMile, 'km'],
  ac: [haPerAcre, 'ha'],
  lb: [kgPerLb, 'kg'],
};

export const acresIn = ({ value, unit }: Quantity): number =>
  unit === 'ha' ? value / haPerAcre : value;

export function inSystem(value: number, unit: string, system: string): [number, string] {
  const rule = system === 'metric' ? metric[unit] : undefined;
  return rule ? [value * rule[0], rule[1]] : [value, unit];
}

function digitsFor(value: number): number {
  const size = Math.abs(value);
  return size >= 10 ? 0 : size >= 1 ? 1 : 2;
}

const system = (): string => settings.value?.units ?? 'imperial';

/** A number and its unit are one word: no line ends between them. */
const unbroken = (words: string): string => words.replaceAll(' ', '\u00a0');

function money(value: number, per: string): string {
  const cents = Math.abs(value) >= 10 || value === 0 ? 0 : 2;
  const number = numberIn(locale(), Math.abs(value), cents, cents);
  return (value < 0 ? '\u2212' : '') + unbroken(t('money', { number, per })); // a loss: the sign first
}

/** Things that are counted, each with its own plural. */
const counted = new Set(['plants', 'spots', 'days']);

/** Shares are said in steps of a twentieth: more would be a precision that is not there. */
const shareSteps = 20;

/** "12 lb/ac", "$14/ac", "about 1 in 5", "about 70 of 100": an amount as people say it. */
export function showAmount(value: number, unit: string): string {
  if (unit === 'chance') return chanceWords(value);
  if (unit === 'share') {
    return t('share.of', { n: Math.round((Math.round(value * shareSteps) * 100) / shareSteps) });
  }
  if (counted.has(unit))
    return t(`count.${unit}.${value === 1 ? 'one' : 'many'}` as Key, { n: showNumber(value, 1) });
  if (unit === 'pH') return showNumber(value, 1);
  const [shown, own] = inSystem(value, unit, system());
  if (own.startsWith('$')) return money(shown, showUnit(own).slice(1));
  return unbroken(`${showNumber(shown, digitsFor(shown))} ${showUnit(own)}`.trim());
}

/** A bare number and the unit that belongs behind it; undefined where the unit is part of the words. */
export function apart(value: number, unit: string): { number: string; unit: string } | undefined {
  if (unit === 'chance' || unit === 'share' || counted.has(unit)) return undefined;
  const [shown, own] = inSystem(value, unit, system());
  if (own.startsWith('$')) return undefined;
  return { number: showNumber(shown, digitsFor(shown)), unit: showUnit(own) };
}

/** The same amount for a column whose head carries the unit; money in whole dollars, or in cents. */
export function inColumn(
  value: number,
  unit: string,
  cents = false,
): { number: string; unit: string } {
  const [shown, own] = inSystem(value, unit, system());
  if (cents) return { number: numberIn(locale(), shown, 2, 2), unit: showUnit(own) };
  const digits = own.startsWith('$') ? 0 : digitsFor(shown);
  const number = showNumber(digits === 0 ? Math.round(shown) || 0 : shown, digits);
  return { number, unit: showUnit(own) };
}

writeAmountsBy(showAmount);

/** Chances that people say, as [part, whole]. */
const said: readonly (readonly [number, number])[] = [
  [1, 100],
  [1, 50],
  [1, 30],
  [1, 20],
  [1, 15],
  [1, 12],
  [1, 10],
  [1, 8],
  [1, 7],
  [1, 6],
  [1, 5],
  [1, 4],
  [1, 3],
  [2, 5],
  [1, 2],
  [3, 5],
  [2, 3],
  [3, 4],
  [4, 5],
  [9, 10],
  [19, 20],
  [49, 50],
];

const logit = (p: number): number => Math.log(p / (1 - p));

/** The nearest chance that people say; undefined under 1 in 140 and over 66 in 67. */
export function nearest(p: number): readonly [number, number] | undefined {
  const least = 1 / 140;
  const most = 66 / 67;
  if (!(p >= least && p <= most)) return undefined;
  const far = ([a, b]: readonly [number, number]) => Math.abs(logit(a / b) - logit(p));
  return said.reduce((best, next) => (far(next) < far(best) ? next : best));
}

export function chanceWords(p: number): string {
  const found = nearest(p);
  const key: Key = p < 0.5 ? 'chance.under' : 'chance.over';
  return found ? t('chance.in', { part: found[0], whole: found[1] }) : t(key);
}

/** A range that is open at one end, by its other one: "at most 1 in 20"; "" where it is not. */
function oneEnd(low: number, high: number): string {
  if (!nearest(low) === !nearest(high)) return '';
  return nearest(high)
    ? t('chance.atMost', { chance: chanceWords(high) })
    : t('chance.atLeast', { chance: chanceWords(low) });
}

/** "about 1 in 5, between 1 in 12 and 1 in 3"; "about 1 in 30, at most 1 in 20". */
export function chanceRange(p: number, low?: number, high?: number): string {
  const mid = chanceWords(p);
  const about = nearest(p) ? t('chance.about', { chance: mid }) : mid;
  if (low === undefined || high === undefined) return about;
  const [a, b] = [chanceWords(low), chanceWords(high)];
  if (a === b) return about;
  const end = oneEnd(low, high);
  if (end) return mid === a || mid === b ? end : `${about}, ${end}`;
  return t(nearest(low) ? 'chance.between' : 'chance.span', { about, low: a, high: b });
}

/** "1 in 30 (1 in 50 to 1 in 20)", "1 in 30 (at most 1 in 12)": short enough for a table. */
export function chanceShort(p: number, low?: number, high?: number): string {
  const value = chanceWords(p);
  if (low === undefined || high === undefined) return value;
  const [a, b] = [chanceWords(low), chanceWords(high)];
  if (a === b) return value;
  const end = oneEnd(low, high);
  if (!end) return t('loss.range', { value, low: a, high: b });
  return value === a || value === b ? end : `${value} (${end})`;
}
