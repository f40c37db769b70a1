import { beforeAll, expect, test, vi } from 'vitest';

let problemWords: (typeof import('../../src/state/problem'))['problemWords'];

beforeAll(async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  ({ problemWords } = await import('../../src/state/problem'));
});

const says = (field: string, message: string) => problemWords({ code: 'range', field, message });

test('the engine and the server say the same in two ways; both are put into the person’s words', () => {
  expect(says('passes.3.reEntryHours', 'is -5, accepted is 0 to 2000 h')).toBe(
    'Re-entry hours from the label: is -5, accepted 0 to 2000 h',
  );
  expect(says('passes.0.date', 'is "", accepted is a date like 2027-06-12')).toMatch(
    /^Day it ended: is “”, expected a date/,
  );
  expect(says('passes.0.time', 'is no time of day, accepted is 00:00 to 23:59')).toMatch(
    /^Hour it ended: is no time of day/,
  );
  expect(says('passes.0.product', 'has 200 characters, accepted is 0 to 80')).toMatch(
    /^Product, as the jug says: has 200 characters/,
  );
  expect(says('prices.soilTest.value', 'is -1, accepted is 0 to 100000 $/field')).toMatch(/^Soil test: is -1/);
  expect(says('digs.0.stand.0.row.value', 'is 500, accepted is 1 to 99 ft')).toMatch(/Length of row counted/);
});

test('a field without a crop is named so, without a path', () => {
  const message = 'the field has no crop entered for crop year 2027';
  expect(says('season', message)).toBe('no crop is entered for 2027');
});

test('a crop that is not worked out is said by the names of crops', () => {
  const message = (crop: string) => `is "${crop}", accepted is dryBean, lentil, pea`;
  expect(says('crop', message('canola'))).toBe(
    'Canola is not worked out here, only these are: dry bean, lentil, field pea',
  );
  expect(says('crop', message('other'))).toBe('no crop is entered');
});
