// What the server refuses of a value and the engine does not see: lengths of text, sizes, names of
// time zones. Said at the box, since what is kept and refused later is work done twice.
import { AREA, MAX_NAME, MAX_NOTE, SEASON_MOST, type Problem, type Quantity } from '../wire.gen';

type Look = (value: unknown) => string | undefined;

const text =
  (least: number, most: number): Look =>
  (value) => {
    const n = [...String(value).trim()].length;
    return n < least || n > most ? `has ${n} characters, accepted ${least} to ${most}` : undefined;
  };

type Span = readonly [number, number];

/** A quantity between two bounds of its unit; a unit that is not among them is the engine's affair. */
const within =
  (bounds: { readonly [unit: string]: Span }): Look =>
  (value) => {
    const q = value as Quantity;
    const [low, high] = bounds[q.unit] ?? [-Infinity, Infinity];
    const fits = q.value >= low && q.value <= high;
    return fits ? undefined : `is ${q.value}, accepted ${low} to ${high} ${q.unit}`;
  };

const zone: Look = (value) => {
  try {
    if (value) Intl.DateTimeFormat('en', { timeZone: String(value) });
    if (value) return undefined;
  } catch {
    // No such zone.
  }
  return `is "${String(value)}", expected a name like America/Regina`;
};

const currency: Look = (value) =>
  /^[A-Z]{3}$/.test(String(value))
    ? undefined
    : `is "${String(value)}", expected three capital letters like CAD`;

const amounts = Object.fromEntries(
  Object.entries(SEASON_MOST).map(([field, most]) => {
    const spans = Object.entries(most).map(([unit, high]): [string, Span] => [unit, [0, high]]);
    return [field, within(Object.fromEntries(spans))];
  }),
);

const texts = { name: text(1, MAX_NAME), note: text(0, MAX_NOTE) };

const looks: { readonly [kind: string]: { readonly [field: string]: Look } } = {
  settings: { name: texts.name, timeZone: zone, currency },
  grower: texts,
  field: { ...texts, area: within(AREA) },
  season: amounts,
  pass: { note: texts.note },
};

/** What of these values the server would not take; undefined = nothing that can be told here. */
export function beyond(kind: string, set: Readonly<Record<string, unknown>>): Problem | undefined {
  for (const [field, look] of Object.entries(looks[kind] ?? {})) {
    const value = set[field];
    const message = value === null || value === undefined ? undefined : look(value);
    if (message) return { code: 'range', field, message };
  }
  return undefined;
}
