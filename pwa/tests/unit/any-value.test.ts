// Values in words: what the review list shows, and a word that stands inside a sentence.
import { beforeAll, expect, test, vi } from 'vitest';

let valueWords: (typeof import('../../src/ui/any-value'))['valueWords'];
let within: (typeof import('../../src/state/words'))['within'];

beforeAll(async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  ({ valueWords } = await import('../../src/ui/any-value'));
  ({ within } = await import('../../src/state/words'));
});

test('a pH is its number and what it was measured in', () => {
  expect(valueWords('ph', { value: 7.7, basis: 'water' })).toBe('7.7 (water)');
  expect(valueWords('ph', { value: 6, basis: 'CaCl2' })).toBe('6 (CaCl₂)');
  expect(valueWords('state', 'frozen')).toBe('was frozen');
});

test('inside a sentence a word loses its capital, a sign or an abbreviation does not', () => {
  expect(within('Starter N: none')).toBe('starter N: none');
  expect(within('Énergie')).toBe('énergie');
  expect(within('N de démarrage inconnu')).toBe('N de démarrage inconnu');
  expect(within('UAN solution')).toBe('UAN solution');
  expect(within('L’azote')).toBe('l’azote');
});
