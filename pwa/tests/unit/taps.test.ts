import { readFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const src = new URL('../../src', import.meta.url).pathname;

function* sources(dir: string): Iterable<string> {
  for (const name of readdirSync(dir)) {
    const path = join(dir, name);
    if (statSync(path).isDirectory()) yield* sources(path);
    else if (/\.tsx?$/.test(name)) yield path;
  }
}

/** Wet thumbs and gloves swipe badly and hold long by accident: everything is done by single taps. */
const notTaps = /\bon(Touch|Pointer|Mouse|Drag|Wheel|ContextMenu|DblClick|GotPointer)\w*=/;

test('nothing hangs on a swipe, a drag, a long press or a double tap', () => {
  const found = [...sources(src)].filter((path) => notTaps.test(readFileSync(path, 'utf8')));
  expect(found).toEqual([]);
});
