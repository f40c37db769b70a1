// How numbers and dates are written, and names put in order. The browser's own means (Intl) cost a
// slow phone more than its whole first list, so what the first list needs is done here; a test holds
// both to be the same. What needs time zones still asks the browser; such a writer is made once.
const dates = new Map<string, Intl.DateTimeFormat>();

const marks = {
  'en-CA': { point: '.', group: ',' },
  'fr-CA': { point: ',', group: '\u00a0' },
} as const;

export type Locale = keyof typeof marks;

/** A number with so many decimals at most and at least, in groups of thousands. */
export function numberIn(locale: Locale, value: number, most: number, least = 0): string {
  const size = Math.abs(value);
  if (!(size < 1e15)) return String(value); // no number of a field; beyond it steps get coarse
  const { point, group } = marks[locale];
  // Rounded as it is read: 1.005 is written so, though the bits behind it lie just below.
  const shown = size < 1e-6 ? 0 : Number(`${Math.round(Number(`${size}e${most}`))}e-${most}`);
  const sign = value < 0 ? '-' : '';
  const [whole = '', rest = ''] = (sign + shown.toFixed(most)).split('.');
  let decimals = rest;
  while (decimals.length > least && decimals.endsWith('0')) decimals = decimals.slice(0, -1);
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, group);
  return decimals === '' ? grouped : grouped + point + decimals;
}

/** The parts of a date by their names: weekday, day, month, year, hour, minute. */
export function dateIn(
  locale: Locale,
  form: Intl.DateTimeFormatOptions,
  at: Date | number,
): { [type: string]: string } {
  const key = locale + JSON.stringify(form);
  const format = dates.get(key) ?? new Intl.DateTimeFormat(locale, form);
  dates.set(key, format);
  return Object.fromEntries(format.formatToParts(at).map((p) => [p.type, p.value]));
}

/** Small letters without their accents. */
export const plain = (text: string): string =>
  text.toLowerCase().normalize('NFD').replace(/[\u0300-\u036f]/g, '');

/** By these keys "Field 2" comes before "Field 10", and accents and capitals change no place. */
export const sortKey = (name: string): string =>
  plain(name).replace(/\d+/g, (digits) => digits.padStart(12, '0'));

/** For sorting dates, ids and sort keys. */
export const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
