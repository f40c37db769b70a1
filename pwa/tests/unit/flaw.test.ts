import { expect, test } from 'vitest';
import { flawOf } from '../../src/dig/flaw';

const side = 40;

/** A picture whose grey at each place is said by a function. */
function picture(grey: (x: number, y: number) => number): Uint8ClampedArray {
  const dots = new Uint8ClampedArray(4 * side * side);
  for (let i = 0; i < side * side; i++) {
    const g = grey(i % side, Math.floor(i / side));
    dots.set([g, g, g, 255], 4 * i);
  }
  return dots;
}

test('a picture with edges is fine, one that only fades is blurred, a dark one is dark', () => {
  const roots = picture((x) => (x % 8 < 2 ? 220 : 90));
  const smear = picture((x, y) => 60 + 2 * x + y);
  const night = picture((x) => (x % 8 < 2 ? 50 : 10));
  expect([roots, smear, night].map((p) => flawOf(p, side, side))).toEqual([
    undefined,
    'blurred',
    'dark',
  ]);
});

test('a picture of a few dots is not judged', () => {
  expect(flawOf(new Uint8ClampedArray([200, 200, 200, 255]), 1, 1)).toBeUndefined();
});
