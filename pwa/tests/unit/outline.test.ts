import { expect, test } from 'vitest';
import { geometryOf } from '../../src/outline';

const ring = [
  [-105, 50],
  [-104.9, 50],
  [-104.9, 50.1],
  [-105, 50],
];
const polygon = { type: 'Polygon', coordinates: [ring] };

test('a bare geometry, a feature and a collection are read alike', () => {
  for (const wrap of [
    polygon,
    { type: 'Feature', properties: {}, geometry: polygon },
    {
      type: 'FeatureCollection',
      features: [
        { type: 'Feature', geometry: { type: 'Point' } },
        { type: 'Feature', geometry: polygon },
      ],
    },
  ]) {
    expect(geometryOf(JSON.stringify(wrap))).toEqual(polygon);
  }
});

test.each([
  ['{"type":"Polygon"', 'notJSON'],
  ['{"type":"Point","coordinates":[1,2]}', 'noPolygon'],
  ['[]', 'noPolygon'],
  ['null', 'noPolygon'],
  [JSON.stringify({ type: 'Polygon', coordinates: [ring.slice(0, 3)] }), 'badRing'],
  [JSON.stringify({ type: 'Polygon', coordinates: [[...ring.slice(0, 3), [0, 0]]] }), 'badRing'],
  [JSON.stringify({ type: 'Polygon', coordinates: [] }), 'badRing'],
  [JSON.stringify({ type: 'Polygon', coordinates: 7 }), 'badRing'],
  [
    JSON.stringify({
      type: 'Polygon',
      coordinates: [
        [
          [50, -105],
          [50, -104],
          [51, -104],
          [50, -105],
        ],
      ],
    }),
    'badPosition',
  ],
])('%s is told apart as %s', (text, fault) => {
  expect(geometryOf(text)).toBe(fault);
});
