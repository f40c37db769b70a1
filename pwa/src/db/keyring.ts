// The key by which the server knows this device again. Its private half cannot be read, not even
// by this program: it only signs. It stands in a database of its own, for all accounts.
import { openDB, type DBSchema } from 'idb';

interface KeySchema extends DBSchema {
  key: { key: 'device'; value: CryptoKeyPair };
}

const kind = { name: 'ECDSA', namedCurve: 'P-256' };

export interface DeviceKey {
  /** The public half, as the server reads it. */
  readonly public: string;
  sign(text: string): Promise<string>;
}

/** No key can be made or kept here: plain http, or a browser that forbids it. */
export class NoKey extends Error {
  constructor() {
    super('this browser cannot keep a key here');
    this.name = 'NoKey';
  }
}

function base64url(bytes: ArrayBuffer): string {
  const text = String.fromCharCode(...new Uint8Array(bytes));
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

async function stored(): Promise<CryptoKeyPair> {
  const db = await openDB<KeySchema>('hilum-key', 1, {
    upgrade: (made) => void made.createObjectStore('key'),
  });
  try {
    const kept = await db.get('key', 'device');
    if (kept) return kept;
    const fresh = await crypto.subtle.generateKey(kind, false, ['sign', 'verify']);
    const tx = db.transaction('key', 'readwrite', { durability: 'strict' });
    // Another tab may have been quicker; the first key stays.
    const first = await tx.store.get('device');
    if (!first) await tx.store.put(fresh, 'device');
    await tx.done;
    return first ?? fresh;
  } finally {
    db.close();
  }
}

export async function keyOf(pair: CryptoKeyPair): Promise<DeviceKey> {
  return {
    public: base64url(await crypto.subtle.exportKey('raw', pair.publicKey)),
    sign: async (text) => {
      const how = { name: 'ECDSA', hash: 'SHA-256' };
      const bytes = new TextEncoder().encode(text);
      return base64url(await crypto.subtle.sign(how, pair.privateKey, bytes));
    },
  };
}

let opened: Promise<DeviceKey> | undefined;

/** This device's key, made on first use. */
export function deviceKey(): Promise<DeviceKey> {
  if (!globalThis.isSecureContext) return Promise.reject(new NoKey());
  opened ??= stored()
    .then(keyOf)
    .catch((error: unknown) => {
      opened = undefined;
      throw error;
    });
  return opened;
}
