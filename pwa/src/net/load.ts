// A long answer over a bad link: what has come is kept in memory, and the next try asks for the
// rest of the same version.

export interface Held {
  tag: string;
  parts: Uint8Array<ArrayBuffer>[];
  size: number;
}

export const nothingHeld = (): Held => ({ tag: '', parts: [], size: 0 });

/** The headers by which a load goes on where it broke off. */
export function goOn(held: Held): Record<string, string> {
  return held.size === 0 ? {} : { Range: `bytes=${held.size}-`, 'If-Range': held.tag };
}

/** Reads an answer to its end into held; throws when it breaks off, and then held has the part. */
export async function readOn(res: Response, held: Held): Promise<string> {
  const partial = 206;
  if (res.status !== partial) Object.assign(held, nothingHeld());
  held.tag = (res.headers.get('ETag') ?? '').replace(/-as-\w+"$/, '"');
  const reader = res.body?.getReader();
  for (;;) {
    const chunk = await reader?.read();
    if (!chunk || chunk.done) break;
    held.parts.push(chunk.value);
    held.size += chunk.value.length;
  }
  const text = await new Blob(held.parts).text();
  Object.assign(held, nothingHeld());
  return text;
}
