// What stands in IndexedDB. One database per account and person, so that a shared phone keeps
// their unsent work apart, and one small database that knows which of them there are.
import type { DBSchema, IDBPTransaction } from 'idb';
import type { Person, Problem, Row } from '../wire.gen';

/** Base rows, packed: a read of one page costs as much as a read of one row. */
export interface Page {
  key: string;
  rows: Row[];
}

/** A mutation the server has answered. Kept for 30 days, so that a restored server can be refilled. */
export interface Sent {
  device: string;
  n: number;
  text: string;
  /** When the server answered, by the server's clock. */
  at: string;
  outcome: string;
  /** Change number it got; until the cursor passes it, the view still overlays it. */
  seq: number;
  problem?: Problem;
  /** A person has looked at the refusal. */
  seen?: boolean;
}

export interface SyncState {
  device: string;
  /** Ids that it had before, in their order. */
  formers?: string[];
  nextN: number;
  cursor: number;
  epoch: string;
  /** As last answered: tombstones below it are not in this load. It goes with the cursor. */
  floor?: number;
  /** Goes up with every write of pages, so that a second tab notices that its copy is old. */
  generation: number;
  /** When the server last answered, by this device's clock; empty before the first time. */
  lastAnswer: string;
  /** The same moment by the server's clock; empty before the first time. */
  serverTime?: string;
}

export interface Owner {
  farm: string;
  accountName: string;
  person: Person;
}

export interface FarmSchema extends DBSchema {
  page: { key: string; value: Page };
  outbox: { key: number; value: string };
  sent: { key: [string, number]; value: Sent };
  draft: { key: string; value: unknown };
  sync: { key: 'state'; value: SyncState };
  owner: { key: 'owner'; value: Owner };
}

export const stores = ['page', 'outbox', 'sent', 'draft', 'sync', 'owner'] as const;

/** A transaction that writes, over all stores. */
export type Tx = IDBPTransaction<FarmSchema, typeof stores, 'readwrite'>;

/** One database this device has signed in to. */
export interface Known {
  farm: string;
  person: string;
  device: string;
  /** The device that this one was, until the server has heard of the change. */
  former?: string;
  login: string;
  name: string;
  role: string;
  accountName: string;
  lastUsed: string;
  signedOut: boolean;
}

export interface RegistrySchema extends DBSchema {
  known: { key: [string, string]; value: Known };
}

export const farmDatabase = (farm: string, person: string): string => `hilum-${farm}-${person}`;
