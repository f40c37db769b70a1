// A flat map about a middle: degrees to metres and back, for drawing and for finding the way.
import type { Position } from './shape';

/** East and north of the middle, in metres. */
export interface Metres {
  east: number;
  north: number;
}

export interface Plane {
  middle: Position;
  perLongitude: number;
  perLatitude: number;
}

/** WGS84: half the long axis, and the square of the eccentricity. */
const axis = 6378137;
const squared = 0.00669437999014;

export function planeAt(middle: Position): Plane {
  const latitude = (middle[1] * Math.PI) / 180;
  const narrow = 1 - squared * Math.sin(latitude) ** 2;
  const across = axis / Math.sqrt(narrow);
  const along = (across * (1 - squared)) / narrow;
  return {
    middle,
    perLongitude: (across * Math.cos(latitude) * Math.PI) / 180,
    perLatitude: (along * Math.PI) / 180,
  };
}

export const toMetres = (plane: Plane, [longitude, latitude]: Position): Metres => ({
  east: (longitude - plane.middle[0]) * plane.perLongitude,
  north: (latitude - plane.middle[1]) * plane.perLatitude,
});

export const toDegrees = (plane: Plane, { east, north }: Metres): Position => [
  plane.middle[0] + east / plane.perLongitude,
  plane.middle[1] + north / plane.perLatitude,
];

export function middleOf(positions: readonly Position[]): Position {
  const of = (i: 0 | 1): number => {
    const values = positions.map((p) => p[i]);
    return (Math.min(...values) + Math.max(...values)) / 2;
  };
  return positions.length === 0 ? [0, 0] : [of(0), of(1)];
}

export function distance(from: Position, to: Position): number {
  const { east, north } = toMetres(planeAt(middleOf([from, to])), to);
  return 2 * Math.hypot(east, north);
}

export const winds = ['n', 'ne', 'e', 'se', 's', 'sw', 'w', 'nw'] as const;
export type Wind = (typeof winds)[number];

/** The nearest of eight directions from one place to another. */
export function direction(from: Position, to: Position): Wind {
  const { east, north } = toMetres(planeAt(from), to);
  const eighths = Math.round((Math.atan2(east, north) / Math.PI) * 4);
  return winds[(eighths + winds.length) % winds.length] ?? 'n';
}

/** Distances as people pace them: 5 m steps near, 10 m from 100 m on, 100 m from 1 km on. */
export function paced(metres: number): number {
  const step = metres < 100 ? 5 : metres < 1000 ? 10 : 100;
  return Math.round(metres / step) * step;
}
