// The device's key: made once, signs what the server reads, and cannot be read.
import { describe, expect, test } from 'vitest';
import { keyOf, NoKey, deviceKey } from '../../src/db/keyring';
import { signed, statement } from '../../src/net/refresh';

const algorithm = { name: 'ECDSA', namedCurve: 'P-256' };

const bytesOf = (text: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (c) => c.charCodeAt(0));

describe('the key of a device', () => {
  test('signs the statement, and its public half proves it', async () => {
    const pair = await crypto.subtle.generateKey(algorithm, false, ['sign', 'verify']);
    const key = await keyOf(pair);
    const who = { farm: 'f', device: 'd', former: undefined };
    const body = await signed(who, 'n', (text) => key.sign(text));
    expect(body).not.toHaveProperty('former');
    const raw = bytesOf(key.public);
    expect(raw).toHaveLength(65);
    const seen = await crypto.subtle.importKey('raw', raw, algorithm, true, ['verify']);
    const text = new TextEncoder().encode(statement('f', 'd', 'n'));
    const how = { name: 'ECDSA', hash: 'SHA-256' };
    expect(await crypto.subtle.verify(how, seen, bytesOf(body.signature), text)).toBe(true);
    await expect(crypto.subtle.exportKey('pkcs8', pair.privateKey)).rejects.toThrow();
  });

  test('is refused in plain words where the page came over plain http', async () => {
    await expect(deviceKey()).rejects.toBeInstanceOf(NoKey);
  });
});
