import fc from 'fast-check';
import { expect, test } from 'vitest';
import { direction, distance, paced, planeAt, toDegrees, toMetres } from '../../src/outline/plane';
import { readPlace } from '../../src/outline/place';
import { featuresOf, looksSwapped, slim } from '../../src/outline/read';
import { polygonWith, ringsOf, swapped, type Position } from '../../src/outline/shape';
import { cornersOf, follow, gapsOf, thinned, type Fix } from '../../src/outline/track';

const ring = [
  [-105, 50],
  [-104.9, 50],
  [-104.9, 50.1],
  [-105, 50],
];
const polygon = { type: 'Polygon', coordinates: [ring] };
const feature = (properties: unknown, geometry: unknown = polygon) => ({
  type: 'Feature',
  properties,
  geometry,
});
const collection = (...features: unknown[]) =>
  JSON.stringify({ type: 'FeatureCollection', features });

test('a bare geometry, a feature, a collection and layers are read alike', () => {
  const layers = JSON.stringify([JSON.parse(collection(feature({}))), feature({})]);
  for (const [text, n] of [
    [JSON.stringify(polygon), 1],
    [JSON.stringify(feature(null)), 1],
    [collection(feature({}), feature({}, { type: 'Point', coordinates: [1, 2] })), 1],
    [layers, 2],
  ] as const) {
    const found = featuresOf(text);
    expect(found.features.map((f) => f.geometry)).toEqual(Array(n).fill(polygon));
    expect(found.refused).toEqual([]);
  }
});

test.each([
  [{ name: 'North Half', id: 7 }, 'North Half'],
  [{ OBJECTID: 3, FIELD_NAME: 'Coulee' }, 'Coulee'],
  [{ Grower: 'Ansel', Label: 'Home 12' }, 'Home 12'],
  [{ x: 1, note: 'Slough' }, 'Slough'],
  [{ name: 12 }, '12'],
  [null, ''],
])('of %j the name is %s', (properties, name) => {
  expect(featuresOf(collection(feature(properties))).features[0]?.name).toBe(name);
});

test.each([
  ['{"type":"Polygon"', 'notJSON'],
  ['{"type":"Point","coordinates":[1,2]}', 'noPolygon'],
  ['[]', 'noPolygon'],
  ['null', 'noPolygon'],
  ['7', 'noPolygon'],
])('%s is refused as a whole: %s', (text, fault) => {
  expect(featuresOf(text)).toMatchObject({ features: [], refused: [{ fault, feature: 0 }] });
});

test.each([
  [[ring.slice(0, 3)], 'badRing'],
  [[[...ring.slice(0, 3), [0, 0]]], 'badRing'],
  [[], 'badRing'],
  [7, 'badRing'],
  [[[[1, 2], [3], [4, 5], [1, 2]]], 'badPosition'],
  [
    [
      [
        [200, 100],
        [200, 101],
        [201, 100],
        [200, 100],
      ],
    ],
    'badPosition',
  ],
  [
    [
      [
        [430000, 5650000],
        [430800, 5650000],
        [430800, 5650800],
        [430000, 5650000],
      ],
    ],
    'grid',
  ],
])('a shape of %j is refused and counted, the others are read', (coordinates, fault) => {
  const bad = feature({}, { type: 'Polygon', coordinates });
  const found = featuresOf(collection(feature({}), bad));
  expect(found.features).toHaveLength(1);
  expect(found.refused).toEqual([{ fault, feature: 2 }]);
});

test('latitude first is a question', () => {
  const right = polygonWith(ring as unknown as Position[]);
  if (!right) throw new Error('no polygon');
  expect(looksSwapped(right)).toBe(false);
  expect(looksSwapped(swapped(right))).toBe(true);
  const east = polygonWith([
    [45, -80],
    [45.01, -80],
    [45.01, -80.01],
  ]);
  if (!east) throw new Error('no polygon');
  expect(looksSwapped(east)).toBe(true); // so far south nothing grows
  const doubtful = polygonWith([
    [50, 60],
    [50.01, 60],
    [50.01, 60.01],
  ]);
  if (!doubtful) throw new Error('no polygon');
  expect(looksSwapped(doubtful)).toBe(false);
  expect(looksSwapped(doubtful, [60, 50])).toBe(true);
});

const place = fc.tuple(
  fc.double({ min: -125, max: -80, noNaN: true }),
  fc.double({ min: 40, max: 60, noNaN: true }),
);

test('degrees to metres and back', () => {
  fc.assert(
    fc.property(place, fc.integer({ min: -5000, max: 5000 }), (middle, east) => {
      const plane = planeAt(middle);
      const back = toMetres(plane, toDegrees(plane, { east, north: -east / 3 }));
      expect(back.east).toBeCloseTo(east, 4);
      expect(back.north).toBeCloseTo(-east / 3, 4);
    }),
  );
});

// A degree of latitude at 51 degrees is 111,246 m, of longitude 70,197 m (WGS84, its radii there).
test('distances and directions', () => {
  expect(distance([-106, 50.5], [-106, 51.5])).toBeCloseTo(111246, -2);
  expect(distance([-106.5, 51], [-105.5, 51])).toBeCloseTo(70197, -2);
  expect(direction([-106, 51], [-106, 51.01])).toBe('n');
  expect(direction([-106, 51], [-105.99, 51.0063])).toBe('ne');
  expect(direction([-106, 51], [-106.01, 51])).toBe('w');
  expect(direction([-106, 51], [-106.0001, 50.9])).toBe('s');
  expect([4, 44, 147, 1234].map(paced)).toEqual([5, 45, 150, 1200]);
});

const at = (east: number, north: number, seconds: number, accuracyM = 5): Fix => {
  const [longitude, latitude] = toDegrees(planeAt([-106, 51]), { east, north });
  return { longitude, latitude, accuracyM, atMS: seconds * 1000 };
};

/** Round a block of 400 by 300 m, a position every two metres or so, shaken by less than a metre. */
function round(): Fix[] {
  const track: Fix[] = [];
  const walk = (fromE: number, fromN: number, toE: number, toN: number) => {
    const n = Math.hypot(toE - fromE, toN - fromN) / 2;
    for (let i = 0; i < n; i++) {
      const shake = Math.sin(i * 12.9898) * 0.7;
      track.push(at(fromE + ((toE - fromE) * i) / n, fromN + ((toN - fromN) * i) / n + shake, i));
    }
  };
  walk(0, 0, 400, 0);
  walk(400, 0, 400, 300);
  walk(400, 300, 0, 300);
  walk(0, 300, 0, 10);
  return track;
}

test('a walked block becomes a handful of corners', () => {
  let track: readonly Fix[] = [];
  for (const fix of round()) track = follow(track, fix);
  expect(track.length).toBeGreaterThan(200);
  expect(cornersOf(track).length).toBeLessThan(12);
  expect(gapsOf(track)).toEqual([]);
});

test('a poor position and one on the spot are left out', () => {
  const start = follow([], at(0, 0, 0));
  expect(follow(start, at(50, 0, 30, 60))).toBe(start);
  expect(follow(start, at(1, 0, 30))).toBe(start);
  expect(follow(start, at(8, 0, 30))).toHaveLength(2);
});

test('silence on the way and an open end are told', () => {
  const track = [at(0, 0, 0), at(10, 0, 5), at(210, 0, 300), at(210, 100, 305), at(0, 100, 400)];
  expect(gapsOf(track).map((g) => Math.round(g.metres))).toEqual([200, 210, 100]);
});

test('thinning keeps the ends and stays within its distance', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 0, max: 900 })), {
        minLength: 2,
        maxLength: 60,
      }),
      fc.integer({ min: 1, max: 50 }),
      (points, within) => {
        const plane = planeAt([-106, 51]);
        const line = points.map(([east, north]) => toDegrees(plane, { east, north }));
        const thin = thinned(line, within);
        expect(thin[0]).toEqual(line[0]);
        expect(thin.at(-1)).toEqual(line.at(-1));
        expect(thin.length).toBeLessThanOrEqual(line.length);
        expect(thin.every((p) => line.includes(p))).toBe(true);
        expect(thinned(thin, within).length).toBeLessThanOrEqual(thin.length);
      },
    ),
  );
});

test('an outline of thousands of corners is made slim, and stays closed', () => {
  const many = Array.from({ length: 6000 }, (_, i): Position => {
    const a = (i / 6000) * 2 * Math.PI;
    return [-106 + 0.005 * Math.cos(a), 51 + 0.003 * Math.sin(a)];
  });
  const round = polygonWith(many);
  if (!round) throw new Error('no polygon');
  const [thin] = ringsOf(slim(round));
  expect(thin?.length).toBeLessThan(300);
  expect(thin?.[0]).toEqual(thin?.at(-1));
});

test.each([
  ['51.0432, -105.9881', [-105.9881, 51.0432]],
  ['51.0432 -105.9881', [-105.9881, 51.0432]],
  ['51,0432; -105,9881', [-105.9881, 51.0432]],
  ['51.0432 N, 105.9881 W', [-105.9881, 51.0432]],
  ['105,9881° O, 51,0432° N', [-105.9881, 51.0432]],
  ['N51.0432 W105.9881', [-105.9881, 51.0432]],
  ['-33, 150', [150, -33]],
])('%s is a place', (typed, want) => {
  expect(readPlace(typed)).toEqual(want);
});

test.each(['', '51', 'north', '95, 10', '51, 200', '1, 2, 3'])('“%s” is no place', (typed) => {
  expect(readPlace(typed)).toBeUndefined();
});
