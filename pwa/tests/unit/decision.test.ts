// Which decision stands, and how it reads.
import { beforeAll, expect, test, vi } from 'vitest';
import type { Seen } from '../../src/db/overlay';

let decisionsOf: (typeof import('../../src/state/decision'))['decisionsOf'];
let decisionWords: (typeof import('../../src/ui/decision'))['decisionWords'];
let view: (typeof import('../../src/state/records'))['view'];

beforeAll(async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  ({ decisionsOf } = await import('../../src/state/decision'));
  ({ decisionWords } = await import('../../src/ui/decision'));
  ({ view } = await import('../../src/state/records'));
});

const body = (over: Record<string, unknown>) => ({
  field: 'f',
  cropYear: 2027,
  digs: [],
  choice: 'none',
  reason: 'r',
  date: '2027-06-14',
  who: 'T. O.',
  ...over,
});

const seen = (id: string, seq: number, over = {}): [string, Seen] => [
  id,
  { id, kind: 'decision', seq, body: body(over), pending: seq === 0 },
];

test('the one accepted last stands, and one only on this device is newer than all', () => {
  view.value = new Map([seen('b', 7), seen('a', 9), seen('other', 12, { field: 'g' })]);
  expect(decisionsOf('f', 2027).map((d) => d.id)).toEqual(['a', 'b']);
  view.value = new Map([seen('b', 7), seen('a', 9), seen('new', 0)]);
  expect(decisionsOf('f', 2027)[0]?.id).toBe('new');
  expect(decisionsOf('f', 2026)).toEqual([]);
});

test('a decision reads as one line', () => {
  const rate = { value: 40, unit: 'lb/ac' };
  const apply = body({ choice: 'apply', rate, product: 'urea', byDay: '2027-06-19' });
  expect(decisionWords(apply).replaceAll('\u00a0', ' ')).toMatch(/^Rescue nitrogen, 40 lb\/ac N, urea, by Sat 19 June/);
  expect(decisionWords(body({}))).toBe('Leave it');
});
