// Outlines as GeoJSON has them (RFC 7946): degrees on WGS84, longitude first. What is measured or
// judged of an outline comes from the engine; here it is only drawn and put together.

export type Position = readonly [longitude: number, latitude: number];
export type Ring = readonly Position[];
/** The outer ring, then what is cut out of it. */
export type Polygon = readonly Ring[];

export type Geometry =
  | { type: 'Polygon'; coordinates: Polygon }
  | { type: 'MultiPolygon'; coordinates: readonly Polygon[] };

export const polygonsOf = (g: Geometry): readonly Polygon[] =>
  g.type === 'Polygon' ? [g.coordinates] : g.coordinates;

export const ringsOf = (g: Geometry): Ring[] => polygonsOf(g).flat();

/** The outline of a record. The server lets nothing else in. */
export const outlineOf = (value: unknown): Geometry | undefined =>
  value === undefined || value === null ? undefined : (value as Geometry);

/** A centimetre: more digits say nothing of a field. */
const digits = 7;

export const rounded = ([longitude, latitude]: Position): Position => [
  Number(longitude.toFixed(digits)),
  Number(latitude.toFixed(digits)),
];

/** The polygon with these corners; at least three are needed. */
export function polygonWith(corners: readonly Position[]): Geometry | undefined {
  const [first] = corners;
  if (!first || corners.length < 3) return undefined;
  return { type: 'Polygon', coordinates: [[...corners, first].map(rounded)] };
}

const turned = ([a, b]: Position): Position => [b, a];

/** The same with longitude and latitude the other way round. */
export function swapped(g: Geometry): Geometry {
  const turn = (polygon: Polygon): Polygon => polygon.map((ring) => ring.map(turned));
  return g.type === 'Polygon'
    ? { type: g.type, coordinates: turn(g.coordinates) }
    : { type: g.type, coordinates: g.coordinates.map(turn) };
}
