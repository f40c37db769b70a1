// Units for showing only: a rate in the units a person thinks in. Storage and engine keep their own.

/** 1 lb = 0.45359237 kg and 1 acre = 0.40468564224 ha, exact (yard and pound agreement, 1959). */
const kgPerLb = 0.45359237;
const haPerAcre = 0.40468564224;
/** Pounds in a bushel of pea or lentil, as "bu/ac" is meant throughout this program. */
const lbPerBushel = 60;

import { showNumber, showUnit } from './words';

const metric: Record<string, readonly [number, string]> = {
  'lb/ac': [kgPerLb / haPerAcre, 'kg/ha'],
  'lb/ac N': [kgPerLb / haPerAcre, 'kg/ha N'],
  'lb/ac NO3-N': [kgPerLb / haPerAcre, 'kg/ha NO3-N'],
  'bu/ac': [(lbPerBushel * kgPerLb) / haPerAcre, 'kg/ha'],
  '$/ac': [1 / haPerAcre, '$/ha'],
  ac: [haPerAcre, 'ha'],
};

const imperial: Record<string, readonly [number, string]> = {
  'kg/ha': [haPerAcre / kgPerLb, 'lb/ac'],
  ha: [1 / haPerAcre, 'ac'],
};

export function inSystem(value: number, unit: string, system: string): [number, string] {
  const rule = (system === 'metric' ? metric : imperial)[unit];
  return rule ? [value * rule[0], rule[1]] : [value, unit];
}

function digitsFor(value: number): number {
  const size = Math.abs(value);
  return size >= 10 ? 0 : size >= 1 ? 1 : 2;
}

/** "12 lb/ac", "$14/ac" in the person's units. */
export function showAmount(value: number, unit: string, system: string): string {
  const [shown, own] = inSystem(value, unit, system);
  const number = showNumber(shown, digitsFor(shown));
  return own.startsWith('$') ? `$${number}${own.slice(1)}` : `${number} ${showUnit(own)}`;
}
