import { expect, test } from 'vitest';
import { countByField } from '../../src/state/hand-in';
import { clockAheadMin } from '../../src/state/ready';

const now = Date.parse('2027-06-14T20:00:00Z');
const dig = (n: number, field: string) => ({
  n,
  text: JSON.stringify({ n, rec: `d${n}`, kind: 'dig', base: 0, set: { field } }),
});
const sent = (n: number, field: string, at: string, outcome = 'applied', seen = false) => ({
  ...dig(n, field),
  device: 'd',
  at,
  outcome,
  seq: n,
  seen,
});

test('what waits and what has arrived is counted field by field', () => {
  const today = '2027-06-14T17:40:00Z';
  const counts = countByField(
    [dig(9, 'a')],
    [
      sent(1, 'a', today),
      sent(2, 'b', today),
      sent(3, 'b', '2027-06-10T17:40:00Z'),
      sent(4, 'c', '2027-06-01T00:00:00Z', 'quarantined'),
      sent(5, 'c', today, 'quarantined', true),
    ],
    now,
  );
  expect(counts).toEqual([
    { field: 'a', here: 2, atServer: 1 },
    { field: 'b', here: 1, atServer: 1 },
    { field: 'c', here: 1, atServer: 0 },
  ]);
});

test('the clock is compared at the last answer, and an unknown one is not called wrong', () => {
  expect(clockAheadMin('2027-06-14T12:10:00Z', '2027-06-14T12:00:00Z')).toBe(10);
  expect(clockAheadMin('2027-06-14T12:00:00Z', '')).toBe(0);
});
