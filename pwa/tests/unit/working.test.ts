import { readFileSync } from 'node:fs';
import { beforeAll, expect, test, vi } from 'vitest';

let workingParts: readonly string[] = [];

beforeAll(async () => {
  vi.stubGlobal('localStorage', { getItem: () => 'en', setItem: () => undefined });
  vi.stubGlobal('navigator', { language: 'en-CA' });
  vi.stubGlobal('document', { documentElement: { lang: '', dataset: {} } });
  vi.stubGlobal('matchMedia', () => ({ matches: false, addEventListener: () => undefined }));
  ({ workingParts } = await import('../../src/ui/working'));
});

const read = (path: string) => readFileSync(new URL(path, import.meta.url), 'utf8');
const english = JSON.parse(read('../../src/words/ui.en.json')) as { [key: string]: string };
const shapes = read('../../src/wire.gen.ts');

/** The names and types of one interface of the engine's report. */
function members(shape: string): [string, string][] {
  const body = new RegExp(`export interface ${shape} \\{([^}]*)\\}`).exec(shapes)?.[1] ?? '';
  return [...body.matchAll(/(\w+)\??: (\w+)/g)].map(([, name, type]) => [name ?? '', type ?? '']);
}

const ownWords = new Set(['Figure', 'Message', 'Window', 'NamedFigure']);
const unlabelled = new Set(['id', 'sources', 'notes', 'messages', 'reasons', 'options']);

function names(shape: string): string[] {
  return members(shape).flatMap(([name, type]) => {
    const own = unlabelled.has(name) ? [] : [name];
    return ownWords.has(type) ? own : [...own, ...names(type)];
  });
}

test('the whole working shows every part of the report that is computed', () => {
  const said = ['schema', 'engineVersion', 'crop', 'cropYear'];
  const elsewhere = ['headline', 'missing', 'cautions', 'sources', ...said];
  const parts = members('Report').map(([name]) => name);
  expect([...workingParts, ...elsewhere].sort()).toEqual(parts.sort());
});

test('each of its values has a label', () => {
  const types = members('Report').filter(([name]) => workingParts.some((part) => part === name));
  const wanted = types.flatMap(([name, type]) => [name, ...names(type)]);
  const lacking = wanted.filter((name) => !(`part.${name}` in english));
  expect([...new Set(lacking)]).toEqual([]);
});
