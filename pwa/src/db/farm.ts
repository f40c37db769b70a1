// One account's data on this device, for one person. Everything a person enters is on the disk
// (strict durability) before a screen may say that it is kept.
import { openDB, type IDBPDatabase } from 'idb';
import type { Mutation, Row, SyncResponse } from '../wire.gen';
import { Handle } from './handle';
import { fromBase, lay, type Seen } from './overlay';
import { Pages } from './page';
import { moveAll, moveUnsent, sentElsewhere } from './former';
import {
  farmDatabase,
  stores,
  type FarmSchema,
  type Owner,
  type Page,
  type Sent,
  type SyncState,
  type Tx,
} from './schema';
import { SCHEMA } from '../wire.gen';

export interface Edit {
  rec: string;
  kind: string;
  base: number;
  set?: Record<string, unknown>;
  del?: boolean;
}

/** A mutation that waits, with the exact bytes that will be sent. */
export interface Waiting {
  n: number;
  text: string;
}

const strict = { durability: 'strict' } as const;

const open = (name: string) => (onClosed: () => void) =>
  openDB<FarmSchema>(name, 1, {
    upgrade: (db) => {
      db.createObjectStore('page', { keyPath: 'key' });
      db.createObjectStore('outbox');
      db.createObjectStore('sent', { keyPath: ['device', 'n'] });
      db.createObjectStore('draft');
      db.createObjectStore('sync');
      db.createObjectStore('owner');
    },
    blocking: (_now, _next, event) => (event.target as IDBDatabase).close(),
    terminated: onClosed,
  });

const fresh = (device: string): SyncState => ({
  device,
  nextN: 1,
  cursor: 0,
  epoch: '',
  generation: 0,
  lastAnswer: '',
});

/** What was shown last, and from what it was made. */
interface Shown {
  generation: number;
  base: ReadonlyMap<string, Seen>;
  over: string;
  view: ReadonlyMap<string, Seen>;
}

const write = (db: IDBPDatabase<FarmSchema>): Tx => db.transaction(stores, 'readwrite', strict);

/** The browser has emptied this store behind the program's back, as some do on a full disk. */
export class Emptied extends Error {
  constructor() {
    super('the browser has emptied the storage of this program');
    this.name = 'Emptied';
  }
}

export class FarmStore {
  private readonly handle: Handle<FarmSchema>;
  /** The pages as this generation of the disk has them; -1: as none has. */
  private pages = new Pages([]);
  private generation = -1;
  private shown: Shown | undefined;
  /** Its state has been seen in this life; when it is gone after that, the browser took it. */
  private settled = false;

  constructor(
    readonly farm: string,
    readonly person: string,
  ) {
    this.handle = new Handle<FarmSchema>(open(farmDatabase(farm, person)));
  }

  /** Runs work in one strict transaction; it is durable when the promise resolves. */
  private write<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
    return this.handle.use(async (db) => {
      const tx = write(db);
      try {
        const result = await work(tx);
        await tx.done;
        return result;
      } catch (error) {
        // A failed request aborts by itself; a throw of ours must not half-commit. The copy in
        // memory may have what the disk now has not.
        this.generation = -1;
        tx.done.catch(() => undefined);
        if (tx.error === null) {
          try {
            tx.abort();
          } catch {
            // Already finished: nothing is left to undo.
          }
        }
        throw error;
      }
    });
  }

  close(): Promise<void> {
    return this.handle.close();
  }

  /** Makes the database ready for a signed-in person; another device id renumbers the outbox. */
  settle(owner: Owner, device: string): Promise<void> {
    return this.write(async (tx) => {
      await tx.objectStore('owner').put(owner, 'owner');
      const state = await tx.objectStore('sync').get('state');
      if (!state) await tx.objectStore('sync').put(fresh(device), 'state');
      else if (state.device !== device) await moveUnsent(tx, state, device);
    });
  }

  owner(): Promise<Owner | undefined> {
    return this.handle.use((db) => db.get('owner', 'owner'));
  }

  private known(state: SyncState | undefined): SyncState {
    if (!state && this.settled) throw new Emptied();
    this.settled ||= state !== undefined;
    return state ?? fresh('');
  }

  async state(): Promise<SyncState> {
    return this.handle.use(async (db) => this.known(await db.get('sync', 'state')));
  }

  /** Keeps edits: their numbers and their bytes are written in one transaction with dropDraft. */
  keep(edits: readonly Edit[], phoneTime: string, dropDraft?: string): Promise<void> {
    return this.write(async (tx) => {
      const sync = tx.objectStore('sync');
      const state = this.known(await sync.get('state'));
      for (const edit of edits) {
        const m: Mutation = { n: state.nextN++, schema: SCHEMA, ...edit, phoneTime };
        await tx.objectStore('outbox').add(JSON.stringify(m), m.n);
      }
      await sync.put(state, 'state');
      if (dropDraft !== undefined) await tx.objectStore('draft').delete(dropDraft);
    });
  }

  waiting(): Promise<Waiting[]> {
    return this.handle.use(async (db) => {
      const tx = db.transaction('outbox');
      const [keys, texts] = await Promise.all([tx.store.getAllKeys(), tx.store.getAll()]);
      return texts.map((text, i) => ({ n: keys[i] ?? 0, text }));
    });
  }

  sent(): Promise<Sent[]> {
    return this.handle.use((db) => db.getAll('sent'));
  }

  putDraft(key: string, draft: unknown): Promise<void> {
    return this.write(async (tx) => {
      // Asked for together: a tap waits for one answer of the disk less. What is not known aborts.
      // The write first: where it throws at once, no question is left behind without a listener.
      const kept = tx.objectStore('draft').put(draft, key);
      const [state] = await Promise.all([tx.objectStore('sync').get('state'), kept]);
      this.known(state);
    });
  }

  dropDraft(key: string): Promise<void> {
    return this.write((tx) => tx.objectStore('draft').delete(key));
  }

  /** The drafts whose keys begin so: digs and outlines lie side by side. */
  drafts(begin = ''): Promise<unknown[]> {
    const range = IDBKeyRange.bound(begin, `${begin}\uffff`);
    return this.handle.use((db) => db.getAll('draft', range));
  }

  draft(key: string): Promise<unknown> {
    return this.handle.use((db) => db.get('draft', key));
  }

  /**
   * All records as this device sees them: base, then answered but not pulled, then unsent. The same
   * map again while nothing has changed.
   */
  view(): Promise<ReadonlyMap<string, Seen>> {
    return this.handle.use(async (db) => {
      // One transaction: an answer taken in between two reads would hide an edit from both.
      const tx = db.transaction(['sync', 'sent', 'outbox', 'page']);
      const state = this.known(await tx.objectStore('sync').get('state'));
      const [sent, waiting, pages] = await Promise.all([
        tx.objectStore('sent').getAll(),
        tx.objectStore('outbox').getAll(),
        this.pagesAt(state, tx.objectStore('page')),
      ]);
      const ahead = sent.filter((s) => s.seq > state.cursor).sort((x, y) => x.seq - y.seq);
      return this.show(state.generation, pages, ahead.map((s) => s.text), waiting);
    });
  }

  /** The pages of a generation, from memory if it has them. */
  private async pagesAt(
    state: SyncState,
    store: { getAll: () => Promise<Page[]> },
  ): Promise<Pages> {
    if (state.generation === this.generation) return this.pages;
    const pages = new Pages(await store.getAll());
    this.adopt(pages, state.generation);
    return pages;
  }

  private adopt(pages: Pages, generation: number): void {
    this.pages = pages;
    this.generation = generation;
  }

  private show(
    generation: number,
    pages: Pages,
    ahead: readonly string[],
    waiting: readonly string[],
  ): ReadonlyMap<string, Seen> {
    const over = JSON.stringify([ahead, waiting]);
    const same = this.shown?.generation === generation ? this.shown : undefined;
    if (same?.over === over) return same.view;
    const base = same?.base ?? fromBase(pages.rows());
    const view = new Map(base);
    for (const text of ahead) lay(view, JSON.parse(text) as Mutation, false);
    for (const text of waiting) lay(view, JSON.parse(text) as Mutation, true);
    this.shown = { generation, base, over, view };
    return view;
  }

  /**
   * Takes an answer in: outcomes, rows and cursor in one transaction, so that a crash leaves all
   * of it or nothing. Asked with cursor 0, it replaces the base.
   */
  absorb(asked: { device: string; cursor: number }, res: SyncResponse, now: string): Promise<void> {
    return this.write(async (tx) => {
      const sync = tx.objectStore('sync');
      const state = this.known(await sync.get('state'));
      await absorbAcks(tx, asked.device, res);
      state.lastAnswer = now;
      state.serverTime = res.serverTime;
      if (!res.reset) await this.absorbRows(tx, state, asked.cursor, res);
      await sync.put(state, 'state');
    });
  }

  private async absorbRows(tx: Tx, state: SyncState, asked: number, res: SyncResponse) {
    const store = tx.objectStore('page');
    if (asked === 0) await store.clear();
    if (res.rows.length > 0 || asked === 0) {
      const pages = asked === 0 ? new Pages([]) : await this.pagesAt(state, store);
      await Promise.all(pages.put(res.rows).map((page) => store.put(page)));
      this.adopt(pages, ++state.generation);
    }
    state.cursor = res.cursor;
    state.epoch = res.epoch;
    if (res.floor === undefined) delete state.floor;
    else state.floor = res.floor;
  }

  /** Starts the base with a packed account, in one transaction; only ever a base that is empty. */
  start(from: { epoch: string; seq: number; rows: readonly Row[] }): Promise<void> {
    return this.write(async (tx) => {
      const state = this.known(await tx.objectStore('sync').get('state'));
      if (state.cursor !== 0) return;
      const store = tx.objectStore('page');
      await store.clear();
      const pages = new Pages([]);
      await Promise.all(pages.put(from.rows).map((page) => store.put(page)));
      const { epoch, seq: cursor } = from;
      const generation = state.generation + 1;
      await tx.objectStore('sync').put({ ...state, epoch, cursor, generation }, 'state');
      this.adopt(pages, generation);
    });
  }

  /**
   * A restored server has another epoch and may lack what it once answered: everything this device
   * still holds is offered again, under the same numbers. If some of it went out under a former
   * device id, all of it moves to a new one, so that its order stays; then this gives the new id.
   */
  offerAll(newDevice: () => string): Promise<string | undefined> {
    return this.write(async (tx) => {
      const state = this.known(await tx.objectStore('sync').get('state'));
      if (!(await sentElsewhere(tx, state))) {
        await takeBack(tx, state, 1);
        return undefined;
      }
      const device = newDevice();
      await moveAll(tx, state, device);
      return device;
    });
  }

  /** Offers again from a number on; false = what is before it is not here. */
  offerAgain(from: number): Promise<boolean> {
    return this.write(async (tx) => {
      const state = this.known(await tx.objectStore('sync').get('state'));
      await takeBack(tx, state, from);
      const held = await tx.objectStore('outbox').getAllKeys();
      const first = Math.min(...held);
      return held.length === 0 || first <= from;
    });
  }

  /** Takes a new device id, since the old one is in use elsewhere; unsent work gets new numbers. */
  becomeDevice(device: string): Promise<void> {
    return this.write(async (tx) => {
      const state = this.known(await tx.objectStore('sync').get('state'));
      await moveUnsent(tx, state, device);
    });
  }

  /** A person has looked at a refusal; it stays here, but is no longer called out. */
  markSeen(device: string, n: number): Promise<void> {
    return this.write(async (tx) => {
      const entry = await tx.objectStore('sent').get([device, n]);
      if (entry) await tx.objectStore('sent').put({ ...entry, seen: true });
    });
  }

  /**
   * Lets go of entries answered that long before the last answer; refusals nobody has looked at
   * stay. Both moments are the server's: a clock of this device that jumps must cost nothing.
   */
  forget(afterMS: number): Promise<void> {
    return this.write(async (tx) => {
      const state = await tx.objectStore('sync').get('state');
      const newest = Date.parse(state?.serverTime ?? '');
      if (Number.isNaN(newest)) return;
      const store = tx.objectStore('sent');
      for (const s of await store.getAll()) {
        const open = s.outcome === 'quarantined' && !s.seen;
        if (Date.parse(s.at) < newest - afterMS && !open) await store.delete([s.device, s.n]);
      }
    });
  }
}

async function absorbAcks(tx: Tx, device: string, res: SyncResponse): Promise<void> {
  const outbox = tx.objectStore('outbox');
  // A cloned number stays in the outbox: becomeDevice sends it again under a number of our own.
  const acks = res.acks.filter((ack) => ack.outcome !== 'cloned');
  const texts = await Promise.all(acks.map((ack) => outbox.get(ack.n)));
  const at = res.serverTime;
  const answered = acks.map(async ({ n, outcome, seq = 0, problem }, i) => {
    const text = texts[i];
    if (text === undefined) return;
    const entry = { device, n, text, at, outcome, seq, ...(problem ? { problem } : {}) };
    await Promise.all([tx.objectStore('sent').put(entry), outbox.delete(n)]);
  });
  await Promise.all(answered);
  await absorbJudged(tx, res);
}

/** What was set aside can be taken later, when what it lacked has come to the server. */
async function absorbJudged(tx: Tx, res: SyncResponse): Promise<void> {
  const store = tx.objectStore('sent');
  for (const { device, n, outcome, seq = 0, problem } of res.judged ?? []) {
    const entry = await store.get([device, n]);
    if (!entry) continue;
    const { problem: _before, ...rest } = entry;
    await store.put({ ...rest, outcome, seq, ...(problem ? { problem } : {}) });
  }
}

/** Puts what was answered under the present device id back into the outbox. */
async function takeBack(tx: Tx, state: SyncState, from: number): Promise<void> {
  for (const s of await tx.objectStore('sent').getAll()) {
    if (s.device !== state.device || s.n < from) continue;
    await tx.objectStore('outbox').put(s.text, s.n);
    await tx.objectStore('sent').delete([s.device, s.n]);
  }
}
