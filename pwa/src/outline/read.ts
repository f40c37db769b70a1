// Reads outlines from what a person pasted or chose. The engine checks them, and the server again.
import { distance } from './plane';
import {
  polygonsOf,
  ringsOf,
  rounded,
  type Geometry,
  type Polygon,
  type Position,
  type Ring,
} from './shape';
import { thinned } from './track';

type FileFault = 'notJSON' | 'tooLarge' | 'bareShape' | 'badShape' | 'badXML';
export type Fault = FileFault | 'noPolygon' | 'badRing' | 'badPosition' | 'grid';

/** One outline of a file, with the name that stands beside it. */
export interface Feature {
  name: string;
  geometry: Geometry;
}

/** What is wrong, and with which feature, counted from 1; 0 is the file itself. */
export interface Refused {
  fault: Fault;
  feature: number;
}

export interface Found {
  features: Feature[];
  refused: Refused[];
  /** Points, lines and the like, which are no outline. */
  others: number;
}

/** All polygons in a GeoJSON text (RFC 7946), and why others are none. */
export function featuresOf(text: string): Found {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return { features: [], refused: [{ fault: 'notJSON', feature: 0 }], others: 0 };
  }
  return featuresIn(parsed);
}

interface Loose {
  type?: unknown;
  geometry?: unknown;
  geometries?: unknown;
  features?: unknown;
  properties?: unknown;
  coordinates?: unknown;
}

/** The same for GeoJSON that is read already. */
export function featuresIn(parsed: unknown): Found {
  const found: Found = { features: [], refused: [], others: 0 };
  const list = listed(parsed);
  list.forEach((value, i) => take(value, i + 1, found));
  if (found.features.length === 0 && found.refused.length === 0)
    found.refused.push({ fault: 'noPolygon', feature: 0 });
  return found;
}

const isObject = (value: unknown): value is Loose => typeof value === 'object' && value !== null;

/** The features of whatever it is: several layers, a collection, or one thing. */
function listed(value: unknown): unknown[] {
  if (Array.isArray(value)) return (value as unknown[]).flatMap(listed);
  if (!isObject(value)) return [];
  if (value.type === 'FeatureCollection' && Array.isArray(value.features))
    return value.features as unknown[];
  return [value];
}

function take(value: unknown, feature: number, found: Found): void {
  const v: Loose = isObject(value) ? value : {};
  const geometry = v.type === 'Feature' ? v.geometry : v;
  if (!isObject(geometry) || (geometry.type !== 'Polygon' && geometry.type !== 'MultiPolygon')) {
    found.others++;
    return;
  }
  const read = geometryOf(geometry.type, geometry.coordinates);
  if (typeof read === 'string') found.refused.push({ fault: read, feature });
  else found.features.push({ name: nameIn(v.properties), geometry: read });
}

/** The property that most likely is the field's name. */
function nameIn(properties: unknown): string {
  if (!isObject(properties)) return '';
  const words = Object.entries(properties).filter(
    (e): e is [string, string | number] => typeof e[1] === 'string' || typeof e[1] === 'number',
  );
  const by = (shape: RegExp) => words.find(([key]) => shape.test(key))?.[1];
  const name = by(/^name$/i) ?? by(/field.?name|name/i) ?? by(/field|label|title/i);
  return String(name ?? words.find(([, v]) => typeof v === 'string')?.[1] ?? '').trim();
}

function geometryOf(type: 'Polygon' | 'MultiPolygon', coordinates: unknown): Geometry | Fault {
  const polygons = type === 'Polygon' ? [coordinates] : coordinates;
  if (!Array.isArray(polygons) || polygons.length === 0) return 'badRing';
  const read: Polygon[] = [];
  for (const rings of polygons as unknown[]) {
    if (!Array.isArray(rings) || rings.length === 0) return 'badRing';
    const polygon: Ring[] = [];
    for (const ring of rings as unknown[]) {
      const one = ringOf(ring);
      if (typeof one === 'string') return one;
      polygon.push(one);
    }
    read.push(polygon);
  }
  const [first] = read;
  return type === 'Polygon' && first
    ? { type, coordinates: first }
    : { type: 'MultiPolygon', coordinates: read };
}

/** A closed ring has at least four positions, the last equal to the first. */
const fewestPositions = 4;

function ringOf(ring: unknown): Ring | Fault {
  if (!Array.isArray(ring) || ring.length < fewestPositions) return 'badRing';
  const positions: Position[] = [];
  for (const p of ring as unknown[]) {
    const [a, b] = Array.isArray(p) ? (p as unknown[]) : [];
    if (typeof a !== 'number' || typeof b !== 'number') return 'badPosition';
    // Metres of a map grid are far larger than degrees can be.
    if (Math.abs(a) > 360 && Math.abs(b) > 360) return 'grid';
    if (!onGlobe([a, b]) && !onGlobe([b, a])) return 'badPosition';
    positions.push(rounded([a, b]));
  }
  const [first, last] = [positions[0], positions.at(-1)];
  return first && last && first[0] === last[0] && first[1] === last[1] ? positions : 'badRing';
}

const onGlobe = ([longitude, latitude]: Position): boolean =>
  Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90;

/** No pulse is grown nearer to a pole than this many degrees. */
const farNorth = 66;
/** Fields of one account lie within this distance of each other, as a rule. */
const nearM = 1_000_000;

/** Whether latitude seems to stand first: a question for the person, since it may be right. */
export function looksSwapped(geometry: Geometry, near?: Position): boolean {
  const positions = ringsOf(geometry).flat();
  if (positions.some((p) => !onGlobe(p))) return true;
  const [first] = positions;
  if (!first || !onGlobe([first[1], first[0]])) return false;
  if (Math.abs(first[1]) > farNorth) return true;
  if (!near || distance(first, near) < nearM) return false;
  return distance([first[1], first[0]], near) < nearM;
}


/** From this many corners on, an outline is thinned: a field has no use for more. */
const mostPositions = 1000;
const thinM = 0.5;

/** The outline with so few corners that every phone draws it at once. */
export function slim(geometry: Geometry): Geometry {
  if (ringsOf(geometry).flat().length <= mostPositions) return geometry;
  const polygons = polygonsOf(geometry).map((p) => p.map(slimRing));
  const [first] = polygons;
  return geometry.type === 'Polygon' && first
    ? { type: 'Polygon', coordinates: first }
    : { type: 'MultiPolygon', coordinates: polygons };
}

/** A closed line has no ends to hold it: it is thinned in two halves. */
function slimRing(ring: Ring): Ring {
  const half = Math.floor(ring.length / 2);
  const [a, b] = [thinned(ring.slice(0, half + 1), thinM), thinned(ring.slice(half), thinM)];
  const line = [...a, ...b.slice(1)];
  return line.length >= fewestPositions ? line : ring;
}
