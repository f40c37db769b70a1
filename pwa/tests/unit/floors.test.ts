import { readFileSync, readdirSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

const src = new URL('../../src', import.meta.url).pathname;

/** Lower numbers know nothing of higher ones; those of one floor may know each other. */
const floors: readonly (readonly string[])[] = [
  ['id', 'day', 'sight', 'wire.gen', 'trust', 'outline', 'words', 'style', 'files.d'],
  ['db', 'engine', 'dig'],
  ['sync', 'net'],
  ['state'],
  ['ui'],
  ['screens'],
  ['main', 'sw'],
  ['start'],
];

function* sources(dir: string): Iterable<string> {
  for (const name of readdirSync(dir)) {
    const path = join(dir, name);
    if (statSync(path).isDirectory()) yield* sources(path);
    else if (/\.tsx?$/.test(name)) yield path;
  }
}

const floorOf = (path: string): number => {
  const top = (relative(src, path).split('/')[0] ?? '').replace(/\.tsx?$/, '');
  return floors.findIndex((floor) => floor.includes(top));
};

/** The files of this program that a file imports. */
function imports(path: string): string[] {
  const text = readFileSync(path, 'utf8');
  const named = [...text.matchAll(/(?:from |import\(|import )'(\.[^']+)'/g)];
  return named.flatMap(([, to]) => {
    const base = resolve(dirname(path), to ?? '');
    const found = ['.ts', '.tsx'].map((ending) => base + ending).find((p) => files.has(p));
    return found ? [found] : [];
  });
}

const files = new Set(sources(src));
const graph = new Map([...files].map((path) => [path, imports(path)] as const));
const short = (path: string) => relative(src, path);

test('every file has its floor', () => {
  expect([...files].filter((path) => floorOf(path) < 0).map(short)).toEqual([]);
});

test('imports only go down', () => {
  const up = [...graph].flatMap(([from, list]) =>
    list.filter((to) => floorOf(to) > floorOf(from)).map((to) => `${short(from)} -> ${short(to)}`),
  );
  expect(up).toEqual([]);
});

test('no import leads back to where it began', () => {
  const done = new Set<string>();
  const circles: string[] = [];
  const walk = (path: string, trail: readonly string[]): void => {
    if (trail.includes(path)) {
      circles.push([...trail.slice(trail.indexOf(path)), path].map(short).join(' -> '));
      return;
    }
    if (done.has(path)) return;
    for (const to of graph.get(path) ?? []) walk(to, [...trail, path]);
    done.add(path);
  };
  for (const path of files) walk(path, []);
  expect(circles).toEqual([]);
});
