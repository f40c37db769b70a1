// How this device gets in: the list of its accounts, and a token for each of them, in memory only.
import { deviceKey } from '../db/keyring';
import { Registry } from '../db/registry';
import type { Known } from '../db/schema';
import { Api, Refused } from '../net/api';
import { signed } from '../net/refresh';
import type { Refresh, Session } from '../wire.gen';

export const registry = new Registry();
export const api = new Api((url, init) => fetch(url, init));

/** Whose account it is: one person's place in one account. */
export type Of = Pick<Known, 'farm' | 'person'>;

export const keyOf = ({ farm, person }: Of): string => `${farm}/${person}`;

interface Token {
  access: string;
  untilMS: number;
}

const tokens = new Map<string, Token>();

export function holdToken(of: Of, session: Session): void {
  // The lifetime counts from the server's clock, since this device's may be wrong by months.
  const lifeMS = Date.parse(session.accessUntil) - Date.parse(session.serverTime);
  tokens.set(keyOf(of), { access: session.access, untilMS: Date.now() + lifeMS });
}

export const dropToken = (of: Of): boolean => tokens.delete(keyOf(of));

function heldToken(of: Of): string | undefined {
  const marginMS = 20_000;
  const token = tokens.get(keyOf(of));
  return token && token.untilMS - marginMS > Date.now() ? token.access : undefined;
}

/** The token in memory, or a fresh one by the key and the cookie; throws what the server said. */
export async function freshToken(known: Known, arrived: () => Promise<void>): Promise<string> {
  const held = heldToken(known);
  if (held !== undefined) return held;
  const session = await api.refresh(await proof(known));
  holdToken(known, session);
  await arrived();
  return session.access;
}

/** With this token an outbox goes up to be looked at, and nothing comes down. */
export async function ticketToken(known: Known): Promise<string> {
  const got = await api.ticket(await proof(known));
  const lifeMS = 10 * 60_000; // asked anew at times, since the server may have changed its mind
  tokens.set(keyOf(known), { access: got.ticket, untilMS: Date.now() + lifeMS });
  return got.ticket;
}

async function proof(known: Known): Promise<Refresh> {
  const key = await deviceKey();
  return signed(known, await api.nonce(), (text) => key.sign(text));
}

/** Without the device that it was: the server knows the new one now. */
export function asArrived(known: Known): Known {
  const { former: _, ...rest } = known;
  return rest;
}

const needed = (): Refused =>
  new Refused(401, { code: 'unauthorized', message: 'sign in first' }, 0);

/** Runs a request with a token; one that has just expired is renewed once. */
export async function withTokenOf<T>(
  of: Of,
  token: () => Promise<string | undefined>,
  work: (access: string) => Promise<T>,
): Promise<T> {
  const access = await token();
  if (access === undefined) throw needed();
  try {
    return await work(access);
  } catch (error) {
    if (!(error instanceof Refused) || error.status !== 401) throw error;
    dropToken(of);
    const renewed = await token();
    if (renewed === undefined) throw needed();
    return work(renewed);
  }
}
