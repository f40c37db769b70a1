import { beforeEach, expect, test } from 'vitest';
import type { Seen } from '../../src/db/overlay';
import { find, rows, view } from '../../src/state/records';

const seen = (id: string, kind: string, body: Record<string, unknown>): [string, Seen] => [
  id,
  { id, kind, seq: 1, body, pending: false },
];

function show(field: object, grower: object): void {
  view.value = new Map([
    seen('g', 'grower', { name: 'Thistle Créek', ...grower }),
    seen('f', 'field', { name: 'Knoll', grower: 'g', ...field }),
  ]);
}

beforeEach(() => show({}, {}));

test('a field in use is listed and found by field and grower, accents aside', () => {
  expect(rows.value).toHaveLength(1);
  expect(find('knoll creek')).toHaveLength(1);
  expect(find('slough')).toHaveLength(0);
});

test.each([
  ['field', { archived: true }, {}],
  ['grower', {}, { archived: true }],
])('a %s put away leaves the list and stays reachable by search', (_what, field, grower) => {
  show(field, grower);
  expect(rows.value).toHaveLength(0);
  expect(find(' ')).toHaveLength(0);
  expect(find('creek')).toHaveLength(1);
});
