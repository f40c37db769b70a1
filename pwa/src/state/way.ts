// How far it is to a field, as the crow flies. Geometry of the map, not of the crop.

export interface Place {
  longitude: number;
  latitude: number;
}

type Ring = readonly (readonly [number, number])[];

function ringOf(outline: unknown): Ring | undefined {
  const shape = outline as { type?: string; coordinates?: unknown } | undefined;
  if (shape?.type === 'Polygon') return (shape.coordinates as Ring[])[0];
  if (shape?.type === 'MultiPolygon') return (shape.coordinates as Ring[][])[0]?.[0];
  return undefined;
}

/** The middle of the box around an outline; undefined without one. */
export function middleOf(outline: unknown): Place | undefined {
  const ring = ringOf(outline);
  if (!ring || ring.length === 0) return undefined;
  const between = (values: number[]) => (Math.min(...values) + Math.max(...values)) / 2;
  return { longitude: between(ring.map((p) => p[0])), latitude: between(ring.map((p) => p[1])) };
}

/** Mean radius of the earth, m (IUGG). */
const earthM = 6_371_009;

export function metresBetween(a: Place, b: Place): number {
  const rad = Math.PI / 180;
  const [x, y] = [a.latitude * rad, b.latitude * rad];
  const [dx, dy] = [(b.longitude - a.longitude) * rad, y - x];
  const h = Math.sin(dy / 2) ** 2 + Math.cos(x) * Math.cos(y) * Math.sin(dx / 2) ** 2;
  return 2 * earthM * Math.asin(Math.sqrt(h));
}

/** Where this phone is, if it may say so at once; the list never waits for it. */
export async function placeNow(asked: boolean): Promise<Place | undefined> {
  if (!('geolocation' in navigator)) return undefined;
  if (!asked) {
    const may = await navigator.permissions?.query({ name: 'geolocation' }).catch(() => undefined);
    if (may?.state !== 'granted') return undefined;
  }
  const how = { maximumAge: 600_000, timeout: 20_000, enableHighAccuracy: false };
  return new Promise((found) => {
    const got = ({ coords: { longitude, latitude } }: GeolocationPosition) =>
      found({ longitude, latitude });
    navigator.geolocation.getCurrentPosition(got, () => found(undefined), how);
  });
}
