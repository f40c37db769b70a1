// Renewing a session: the server gives a nonce, the device's key signs it, the cookie does the rest.
import type { Refresh } from '../wire.gen';

/** Which device of which account this is, and which it was until the server heard of it. */
export interface Standing {
  farm: string;
  device: string;
  former?: string | undefined;
}

/** What the key signs; the server puts the same text together. */
export const statement = (farm: string, device: string, nonce: string): string =>
  ['hilum refresh', farm, device, nonce].join('\n');

export async function signed(
  who: Standing,
  nonce: string,
  sign: (text: string) => Promise<string>,
): Promise<Refresh> {
  const { farm, device, former } = who;
  const signature = await sign(statement(farm, device, nonce));
  return { farm, device, ...(former ? { former } : {}), nonce, signature };
}
