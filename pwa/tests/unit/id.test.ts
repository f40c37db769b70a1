import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { newId, onceId } from '../../src/id';

interface Case {
  farm: string;
  kind: string;
  key: string;
  id: string;
}

const shared = new URL('../../../testdata/ids.json', import.meta.url);

test('once-only ids are the ones the server makes', async () => {
  expect(existsSync(shared), 'testdata/ids.json is missing').toBe(true);
  const cases = JSON.parse(readFileSync(shared, 'utf8')) as Case[];
  expect(cases.length).toBeGreaterThan(0);
  for (const c of cases) expect(await onceId(c.farm, c.kind, c.key), c.key).toBe(c.id);
});

test('version 5 agrees with an independent implementation', async () => {
  // Made with Python 3.11: uuid.uuid5(uuid.NAMESPACE_DNS, "a:b").
  const id = await onceId('6ba7b810-9dad-11d1-80b4-00c04fd430c8', 'a', 'b');
  expect(id).toBe('c9d6b581-bfe3-5415-aff0-be1ededc9647');
});

test('new ids carry the moment, sort by it and are lower-case version 7', () => {
  const zeroes = (bytes: Uint8Array) => void bytes.fill(0);
  expect(newId(0x0123456789ab, zeroes)).toBe('01234567-89ab-7000-8000-000000000000');
  expect(newId(2000) > newId(1000)).toBe(true);
  expect(newId(-5, zeroes)).toBe('00000000-0000-7000-8000-000000000000');
});
