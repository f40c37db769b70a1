import { readFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
const read = (path: string) =>
  JSON.parse(readFileSync(join(root, path), 'utf8')) as { [k: string]: string };
const pairs = [
  ['src/words/ui.en.json', 'src/words/ui.fr.json'],
  ['../internal/words/engine.en.json', '../internal/words/engine.fr.json'],
] as const;

const holes = (text: string): string[] => [...new Set(text.match(/\{\w+\}/g) ?? [])].sort();

test.each(pairs)('%s and %s have the same keys and placeholders', (en, fr) => {
  const [english, french] = [read(en), read(fr)];
  expect(Object.keys(french).sort()).toEqual(Object.keys(english).sort());
  for (const [key, text] of Object.entries(english))
    expect(holes(french[key] ?? ''), key).toEqual(holes(text));
});

function* sources(dir: string): Iterable<string> {
  for (const name of readdirSync(dir)) {
    const path = join(dir, name);
    if (statSync(path).isDirectory()) yield* sources(path);
    else if (/\.tsx?$/.test(name)) yield path;
  }
}

test('every key that the program names outright is there', () => {
  const english = read('src/words/ui.en.json');
  const lacking: string[] = [];
  for (const path of sources(join(root, 'src'))) {
    const text = readFileSync(path, 'utf8');
    for (const [, key] of text.matchAll(/\bt\('([\w.]+)'/g))
      if (key && !(key in english)) lacking.push(key);
    for (const [, key] of text.matchAll(/\btn\('([\w.]+)'/g)) {
      if (key && !(`${key}.one` in english && `${key}.many` in english)) lacking.push(key);
    }
  }
  expect(lacking).toEqual([]);
});

test('every kind of record that clients write has its word', () => {
  const english = read('src/words/ui.en.json');
  const registry = readFileSync(join(root, '../internal/kind/kind.go'), 'utf8');
  const kinds = [...registry.matchAll(/^\t"(\w+)": \{$/gm)].map(([, kind]) => kind ?? '');
  expect(kinds).toContain('dig');
  expect(kinds.filter((kind) => !(`kindOf.${kind}` in english))).toEqual([]);
});

test('every answer and class has its words', () => {
  const english = read('src/words/ui.en.json');
  const families: { [prefix: string]: string[] } = {
    class: ['adequate', 'borderline', 'poor', 'none', 'tooEarly'],
    meaning: ['adequate', 'borderline', 'poor', 'none', 'tooEarly'],
    enough: ['adequate', 'poor', 'undecided'],
    decision: ['none', 'optional', 'apply', 'unknown'],
    option: ['none', 'liquid', 'peat', 'granular', 'granularPeat', 'unknown'],
    vigour: ['vigorous', 'small', 'pale', 'yellow'],
    nodules: ['over5', '3to5', 'under3', 'none'],
    inside: ['pink', 'white', 'green', 'brown', 'notCut'],
    position: ['crownAndLateral', 'mostlyCrown', 'mostlyLateral', 'none'],
    plant: ['adequate', 'notYet', 'poor'],
    kind: ['published', 'derived', 'practice', 'memory', 'ours'],
  };
  for (const [prefix, keys] of Object.entries(families)) {
    for (const key of keys)
      expect(english, `${prefix}.${key}`).toHaveProperty([`${prefix}.${key}`]);
  }
});

test('no text claims more than is known: not saved, not synced, no success', () => {
  const banned = /\b(saved?|synced?|success\w*|sauvegard\w*|synchronis\w*|enregistr\w*)\b/i;
  for (const path of pairs.flat()) {
    for (const [key, text] of Object.entries(read(path))) expect(text, key).not.toMatch(banned);
  }
  for (const path of sources(join(root, 'src'))) {
    const shown = readFileSync(path, 'utf8').replaceAll(/^\s*(\/\/|\*|\/\*).*$/gm, '');
    expect(shown, path).not.toMatch(/['"`>](Saved|Synced|Success)/);
  }
});
