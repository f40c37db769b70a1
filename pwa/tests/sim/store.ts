// The shipped store of a phone, with a hand at every transaction: the phone can die before it,
// inside it (it aborts) and after it, and a write can fail for want of room.
import { FarmStore } from '../../src/db/farm';
import { drive, never } from './turns';

type Work<T> = (tx: Tx) => Promise<T>;

interface Table {
  get(key: unknown): Promise<unknown>;
  getAll(): Promise<unknown[]>;
  getAllKeys(): Promise<unknown[]>;
  put(value: unknown, key?: unknown): Promise<unknown>;
  delete(key: unknown): Promise<void>;
  clear(): Promise<void>;
}

export interface Tx {
  objectStore(name: string): Table;
  abort(): void;
}

/** What the store keeps to itself. */
export interface Inner {
  write: <T>(work: Work<T>) => Promise<T>;
  handle: {
    current: Promise<{ close(): void }> | undefined;
    use: <T>(work: (db: { getAll(name: string): Promise<T> }) => Promise<T>) => Promise<T>;
  };
}

export const innerOf = (store: FarmStore): Inner => store as unknown as Inner;

export type Point = 'before' | 'inside' | 'after';

/** The life a store belongs to. */
export interface Body {
  life: number;
  /** Kills the phone here if its time has come. */
  dies(point: Point): boolean;
  /** The disk has no room for this write. */
  full(): boolean;
  readonly busy: Set<Tx>;
}

const quota = (): Error => new DOMException('no room', 'QuotaExceededError');

/** A store on the phone's disk that lives as long as body.life stays the same. */
export function openStore(disk: string, body: Body): FarmStore {
  const store = new FarmStore(disk, 'person');
  const inner = innerOf(store);
  const shipped = inner.write.bind(store);
  const life = body.life;
  const gone = () => body.life !== life;
  inner.write = async <T>(work: Work<T>): Promise<T> => {
    if (gone() || body.dies('before')) return never<T>();
    const result = await shipped(async (tx: Tx) => {
      if (gone()) return abandon<T>(tx);
      body.busy.add(tx);
      try {
        const value = await work(tx);
        if (gone() || body.dies('inside')) return await abandon<T>(tx);
        if (body.full()) throw quota();
        return value;
      } finally {
        if (!gone()) body.busy.delete(tx);
      }
    });
    return gone() || body.dies('after') ? never<T>() : result;
  };
  return store;
}

function abandon<T>(tx: Tx): Promise<T> {
  abort(tx);
  return never<T>();
}

export function abort(tx: Tx): void {
  try {
    tx.abort();
  } catch {
    // It had committed already.
  }
}

/**
 * The browser closes the connection behind the page's back. One that is just being opened is given
 * the turns it needs for that; false: with all of them it never opened.
 */
export async function cutHandle(store: FarmStore): Promise<boolean> {
  const { current } = innerOf(store).handle;
  if (!current) return true;
  const db = await drive(current);
  db?.close();
  return db !== undefined;
}
