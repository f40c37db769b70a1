// A place as a person types or pastes it: latitude first, as maps and receivers print it.
import type { Position } from './shape';

/** Decimal degrees, with a sign or a letter of the compass on one side of each. */
const before = /([NSEWO])?\s*([-+−]?\d{1,3}(?:[.,]\d+)?)()/gi;
const behind = /()([-+−]?\d{1,3}(?:[.,]\d+)?)\s*°?\s*([NSEWO])?/gi;

/** "51.0432, -105.988", "51,04° N 105,98° O", "N51.04 W105.98". */
export function readPlace(typed: string): Position | undefined {
  // A comma that a blank follows parts the two numbers; one between digits is a decimal comma.
  const text = typed.trim().replaceAll(/,\s+|;/g, ' | ');
  const parts = [...text.matchAll(/^[NSEWO]/i.test(text) ? before : behind)];
  const numbers = parts.map(([, front, digits, back]) => {
    const letter = (front || back || '').toUpperCase();
    const value = Number((digits ?? '').replace('−', '-').replace(',', '.'));
    return { letter, value: 'WOS'.includes(letter || '-') ? -Math.abs(value) : value };
  });
  const [a, b] = numbers;
  if (!a || !b || numbers.length !== 2) return undefined;
  const turned = 'EWO'.includes(a.letter || '-');
  const [latitude, longitude] = turned ? [b.value, a.value] : [a.value, b.value];
  const inRange = Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180;
  return inRange ? [longitude, latitude] : undefined;
}
