// Reads a field's outline from what a person pasted or chose. The server checks it again.

export type OutlineFault = 'notJSON' | 'noPolygon' | 'badRing' | 'badPosition';

interface Geometry {
  type: 'Polygon' | 'MultiPolygon';
  coordinates: unknown;
}

type Position = readonly [number, number];

/** The first Polygon or MultiPolygon in a GeoJSON text (RFC 7946), or why there is none. */
export function geometryOf(text: string): Geometry | OutlineFault {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    return 'notJSON';
  }
  const geometry = find(parsed);
  if (!geometry) return 'noPolygon';
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
  if (!Array.isArray(polygons)) return 'badRing';
  for (const rings of polygons as unknown[]) {
    if (!Array.isArray(rings) || rings.length === 0) return 'badRing';
    for (const ring of rings as unknown[]) {
      const fault = ringFault(ring);
      if (fault) return fault;
    }
  }
  return { type: geometry.type, coordinates: geometry.coordinates };
}

function find(value: unknown): Geometry | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const v = value as { type?: unknown; geometry?: unknown; features?: unknown };
  if (v.type === 'Polygon' || v.type === 'MultiPolygon') return value as Geometry;
  if (v.type === 'Feature') return find(v.geometry);
  if (v.type !== 'FeatureCollection' || !Array.isArray(v.features)) return undefined;
  for (const feature of v.features as unknown[]) {
    const found = find(feature);
    if (found) return found;
  }
  return undefined;
}

/** A closed ring has at least four positions, the last equal to the first. */
const fewestPositions = 4;

function ringFault(ring: unknown): OutlineFault | undefined {
  if (!Array.isArray(ring) || ring.length < fewestPositions) return 'badRing';
  if (!ring.every(isPosition)) return 'badPosition';
  const [first, last] = [ring[0] as Position, ring.at(-1) as Position];
  return first[0] === last[0] && first[1] === last[1] ? undefined : 'badRing';
}

function isPosition(p: unknown): p is Position {
  if (!Array.isArray(p) || p.length < 2) return false;
  const [lon, lat] = p as unknown[];
  return (
    typeof lon === 'number' &&
    typeof lat === 'number' &&
    Math.abs(lon) <= 180 &&
    Math.abs(lat) <= 90
  );
}
