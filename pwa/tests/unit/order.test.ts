// The year's plans added up for the supplier.
import { beforeAll, expect, test, vi } from 'vitest';
import type { Need } from '../../src/state/order';

let sums: typeof import('../../src/state/order');

beforeAll(async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  sums = await import('../../src/state/order');
});

const need = (crop: string, area: Need['area'], option: string, starter: string, n?: number): Need => ({
  crop,
  area,
  headline: {
    option,
    starterDecision: starter,
    missing: [],
    ...(n === undefined ? {} : { starterN: n }),
  },
});

test('ground is added up by crop and inoculant, hectares as acres, unknown areas counted apart', () => {
  const list = [
    need('pea', { value: 100, unit: 'ac' }, 'peat', 'none', 0),
    need('pea', { value: 40.468564224, unit: 'ha' }, 'peat', 'none', 0), // 100 ac, exact
    need('pea', undefined, 'peat', 'none', 0),
    need('pea', { value: 300, unit: 'ac' }, 'granular', 'none', 0),
    need('lentil', { value: 50, unit: 'ac' }, '', 'unknown'),
    { crop: 'lentil', area: { value: 10, unit: 'ac' }, headline: undefined },
  ];
  const found = sums.grounds(list);
  expect(found.map(({ crop, option }) => `${crop} ${option}`)).toEqual([
    'lentil unknown',
    'pea granular',
    'pea peat',
  ]);
  expect(found[0]).toMatchObject({ fields: 2, acres: 60, unsized: 0 });
  expect(found[2]).toMatchObject({ fields: 3, unsized: 1 });
  expect(found[2]?.acres).toBeCloseTo(200, 9);
});

test('starter nitrogen counts where it is asked for or optional, each apart', () => {
  const list = [
    need('pea', { value: 100, unit: 'ac' }, 'peat', 'apply', 20),
    need('pea', undefined, 'peat', 'apply', 20),
    need('pea', { value: 10, unit: 'ac' }, 'peat', 'optional', 5),
    need('pea', { value: 1000, unit: 'ac' }, 'peat', 'none', 0),
    need('pea', { value: 1000, unit: 'ac' }, 'peat', 'unknown'),
  ];
  expect(sums.starters(list)).toEqual([
    { decision: 'apply', fields: 2, acres: 100, pounds: 2000, unsized: 1 },
    { decision: 'optional', fields: 1, acres: 10, pounds: 50, unsized: 0 },
  ]);
  expect(sums.starterPounds(need('pea', undefined, 'peat', 'apply', 20))).toBeUndefined();
});
