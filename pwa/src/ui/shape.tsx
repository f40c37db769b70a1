// A field's outline as a small drawing, north up, for a page; no map, no scale.
import { outlineOf, ringsOf } from '../outline/shape';

const size = 100;

type Point = readonly [x: number, y: number];

/** Positions as points of a flat page: degrees of longitude are narrower away from the equator. */
function pointsOf(outline: unknown): Point[][] {
  const found = outlineOf(outline);
  const rings = found ? ringsOf(found) : [];
  const narrow = Math.cos(((rings[0]?.[0]?.[1] ?? 0) * Math.PI) / 180);
  return rings.map((ring) => ring.map(([lon, lat]) => [lon * narrow, lat] as const));
}

export function Shape({ outline, label }: { outline: unknown; label: string }) {
  const rings = pointsOf(outline);
  const points = rings.flat();
  if (points.length === 0) return null;
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
  const [west, south] = [Math.min(...xs), Math.min(...ys)];
  const span = Math.max(Math.max(...xs) - west, Math.max(...ys) - south) || 1;
  const at = ([x, y]: Point) =>
    `${(((x - west) / span) * size).toFixed(1)} ${(size - ((y - south) / span) * size).toFixed(1)}`;
  return (
    <svg class="shape" viewBox={`-2 -2 ${size + 4} ${size + 4}`} role="img" aria-label={label}>
      {rings.map((ring, i) => (
        <path key={i} d={`M${ring.map(at).join('L')}Z`} />
      ))}
    </svg>
  );
}
