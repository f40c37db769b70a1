// Ids that the device makes. Facts get a version 7 UUID (time and chance); a thing that may exist
// once in an account gets a version 5 UUID, the same on every device and on the server.

const hex = (bytes: Uint8Array): string =>
  Array.from(bytes, (b) => b.toString(16).padStart(2, '0')).join('');

const dashed = (bytes: Uint8Array): string => {
  const h = hex(bytes);
  return [h.slice(0, 8), h.slice(8, 12), h.slice(12, 16), h.slice(16, 20), h.slice(20)].join('-');
};

function stamp(bytes: Uint8Array, version: number): string {
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | (version << 4);
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  return dashed(bytes);
}

export type Fill = (bytes: Uint8Array<ArrayBuffer>) => void;

export const fillRandom: Fill = (bytes) => {
  crypto.getRandomValues(bytes);
};

/** A version 7 UUID (RFC 9562, 5.7) for a moment in ms; ids of one device sort by time. */
export function newId(nowMS: number, fill: Fill = fillRandom): string {
  const bytes = new Uint8Array(16);
  fill(bytes);
  let ms = Math.max(0, Math.floor(nowMS));
  for (let i = 5; i >= 0; i--) {
    bytes[i] = ms % 256;
    ms = Math.floor(ms / 256);
  }
  return stamp(bytes, 7);
}

/** The id of a record that may exist once: version 5 UUID of "kind:key" within the account. */
export async function onceId(farm: string, kind: string, key: string): Promise<string> {
  const space = (farm.replaceAll('-', '').match(/../g) ?? []).map((pair) => parseInt(pair, 16));
  const name = new TextEncoder().encode(`${kind}:${key}`);
  const sum = await crypto.subtle.digest('SHA-1', new Uint8Array([...space, ...name]));
  return stamp(new Uint8Array(sum.slice(0, 16)), 5);
}

export const seasonId = (farm: string, field: string, cropYear: number): Promise<string> =>
  onceId(farm, 'season', `${field}/${cropYear}/whole`);

export const settingsId = (farm: string): Promise<string> => onceId(farm, 'settings', '');

export const resultId = (farm: string, field: string, cropYear: number): Promise<string> =>
  onceId(farm, 'result', `${field}/${cropYear}`);

export const assignmentId = (farm: string, field: string, cropYear: number): Promise<string> =>
  onceId(farm, 'assignment', `${field}/${cropYear}`);
