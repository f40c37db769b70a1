import { beforeEach, expect, test, vi } from 'vitest';
import { fillReserve, freeReserve } from '../../src/db/reserve';

beforeEach(() => void vi.stubGlobal('navigator', { language: 'en-CA' }));

test('the reserve is held once, let go once, and held again', async () => {
  expect(await freeReserve()).toBe(false);
  await fillReserve();
  await fillReserve();
  expect(await freeReserve()).toBe(true);
  expect(await freeReserve()).toBe(false);
  await fillReserve();
  expect(await freeReserve()).toBe(true);
});

test('a write on a full disk is tried again with the reserve let go', async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  const { guarded, spaceShort } = await import('../../src/state/keep');
  const { notKept } = await import('../../src/state/trouble');
  const full = () => Promise.reject(new DOMException('full', 'QuotaExceededError'));
  let tries = 0;
  await fillReserve();
  expect(await guarded(() => (++tries === 1 ? full() : Promise.resolve()))).toBe(true);
  expect([tries, spaceShort.value, notKept.value]).toEqual([2, true, undefined]);
  expect(await guarded(full)).toBe(false);
  expect(notKept.value).toBe('full');
});
