// An outline as it is walked or driven: positions from the satellites, thinned to its corners.
import { distance, middleOf, planeAt, toMetres, type Metres } from './plane';
import type { Position } from './shape';

export interface Fix {
  longitude: number;
  latitude: number;
  /** Within how many metres it is true, two times of three. */
  accuracyM: number;
  atMS: number;
}

/** The numbers of this page are ours; they are about the receivers of phones, not about crops. */
export const poorM = 30;
/** Nearer than this to the one before, a position says nothing new. */
const leastStepM = 3;
/** Farther than this after silence, the line between is a guess and is told. */
const gapM = 40;
const gapMS = 20_000;
/** How far the thinned line may leave the walked one. */
const thinM = 2;

export const positionOf = (fix: Fix): Position => [fix.longitude, fix.latitude];

/** The track with one more position; a poor one or one on the spot is left out. */
export function follow(track: readonly Fix[], fix: Fix): readonly Fix[] {
  if (fix.accuracyM > poorM) return track;
  const last = track.at(-1);
  if (!last) return [fix];
  const step = Math.max(leastStepM, Math.min(fix.accuracyM, last.accuracyM) / 2);
  return distance(positionOf(last), positionOf(fix)) < step ? track : [...track, fix];
}

export interface Gap {
  from: Position;
  to: Position;
  metres: number;
}

/** Where the track lost its way: long silence and a long way in it, also from its end to its start. */
export function gapsOf(track: readonly Fix[]): Gap[] {
  const gaps: Gap[] = [];
  const add = (from: Fix, to: Fix, closing: boolean): void => {
    const metres = distance(positionOf(from), positionOf(to));
    if (metres < gapM || (!closing && to.atMS - from.atMS < gapMS)) return;
    gaps.push({ from: positionOf(from), to: positionOf(to), metres });
  };
  track.forEach((fix, i) => {
    const before = track[i - 1];
    if (before) add(before, fix, false);
  });
  const [first, last] = [track[0], track.at(-1)];
  if (first && last && track.length > 2) add(last, first, true);
  return gaps;
}

/** The corners of a walked line. */
export const cornersOf = (track: readonly Fix[]): Position[] =>
  thinned(track.map(positionOf), thinM);

/** Leaves out what lies within a distance of the line (Douglas and Peucker 1973); ends stay. */
export function thinned(line: readonly Position[], withinM: number): Position[] {
  const plane = planeAt(middleOf(line));
  const flat = line.map((p) => toMetres(plane, p));
  const keep = new Set([0, line.length - 1]);
  const open: [number, number][] = [[0, line.length - 1]];
  for (let part = open.pop(); part; part = open.pop()) {
    const [from, to] = part;
    const [worst, far] = farthest(flat, from, to);
    if (far <= withinM) continue;
    keep.add(worst);
    open.push([from, worst], [worst, to]);
  }
  return line.filter((_, i) => keep.has(i));
}

function farthest(flat: readonly Metres[], from: number, to: number): [number, number] {
  const [a, b] = [flat[from], flat[to]];
  let [worst, far] = [from, -1];
  if (!a || !b) return [worst, far];
  for (let i = from + 1; i < to; i++) {
    const p = flat[i];
    const away = p ? aside(p, a, b) : 0;
    if (away > far) [worst, far] = [i, away];
  }
  return [worst, far];
}

function aside(p: Metres, a: Metres, b: Metres): number {
  const [wide, high] = [b.east - a.east, b.north - a.north];
  const long = wide ** 2 + high ** 2;
  const along = long === 0 ? 0 : ((p.east - a.east) * wide + (p.north - a.north) * high) / long;
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(p.east - a.east - t * wide, p.north - a.north - t * high);
}
