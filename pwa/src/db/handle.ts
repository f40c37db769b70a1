// A database handle that is allowed to die. Browsers close connections behind a page's back
// (background, storage pressure, an upgrade in another tab); a handle kept for ever turns that
// into lost writes. So: reopen, repeat once, then tell.
import type { DBSchema, IDBPDatabase } from 'idb';

const dead = new Set(['InvalidStateError', 'UnknownError']);

const nameOf = (error: unknown): string => (error instanceof Error ? error.name : '');

export const isFull = (error: unknown): boolean => nameOf(error) === 'QuotaExceededError';

export type Open<S extends DBSchema> = (onClosed: () => void) => Promise<IDBPDatabase<S>>;

export class Handle<S extends DBSchema> {
  private current: Promise<IDBPDatabase<S>> | undefined;

  constructor(private readonly open: Open<S>) {}

  /** Runs one piece of work; on a dead connection runs it once more over a new one. */
  async use<T>(work: (db: IDBPDatabase<S>) => Promise<T>): Promise<T> {
    try {
      return await work(await this.connection());
    } catch (error) {
      if (!dead.has(nameOf(error))) throw error;
      this.drop();
      return await work(await this.connection());
    }
  }

  async close(): Promise<void> {
    const current = this.current;
    this.current = undefined;
    (await current)?.close();
  }

  private drop(): void {
    this.current?.then((db) => db.close()).catch(() => undefined);
    this.current = undefined;
  }

  private connection(): Promise<IDBPDatabase<S>> {
    this.current ??= this.open(() => (this.current = undefined)).catch((error: unknown) => {
      this.current = undefined;
      throw error;
    });
    return this.current;
  }
}
