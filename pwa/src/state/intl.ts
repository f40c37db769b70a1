// The browser's own writers of numbers and dates. Making one costs a phone a hundred times what
// using it costs, so each is made once.
const numbers = new Map<string, Intl.NumberFormat>();
const dates = new Map<string, Intl.DateTimeFormat>();

function once<T>(made: Map<string, T>, locale: string, form: object, make: () => T): T {
  const key = locale + JSON.stringify(form);
  const known = made.get(key);
  if (known) return known;
  const now = make();
  made.set(key, now);
  return now;
}

export const numberIn = (locale: string, form: Intl.NumberFormatOptions): Intl.NumberFormat =>
  once(numbers, locale, form, () => new Intl.NumberFormat(locale, form));

/** The parts of a date by their names: weekday, day, month, year, hour, minute. */
export function dateIn(
  locale: string,
  form: Intl.DateTimeFormatOptions,
  at: Date | number,
): { [type: string]: string } {
  const format = once(dates, locale, form, () => new Intl.DateTimeFormat(locale, form));
  return Object.fromEntries(format.formatToParts(at).map((p) => [p.type, p.value]));
}
