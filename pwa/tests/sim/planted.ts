// Planted faults of a careless phone, as wrappers around the shipped code. Each must be caught;
// that is what shows that the checks mean something. The server's stand in internal/simdoor.
import { FarmStore, type Edit } from '../../src/db/farm';
import { Refused } from '../../src/net/api';
import type { Mutation, SyncResponse } from '../../src/wire.gen';
import type { Phone } from './phone';
import { innerOf, type Tx } from './store';

const server = [
  'ackBeforeCommit',
  'noDedupe',
  'dedupeByRecord',
  'hashIgnored',
  'seqGaps',
  'historyNotWritten',
  'conflictDropped',
  'partialCommit',
  'mutationNotKept',
  'clockWins',
  'deletedWins',
  'firstWins',
  'cursorByTime',
  'cursorSkips',
  'poisonRefused',
  'epochKept',
  'putOffForgotten',
  'neverAgain',
  'judgedUntold',
  'editAlone',
  'placeUnknown',
];

type Absorb = FarmStore['absorb'];

/** Sets an absorb around the shipped one. */
const around = (store: FarmStore, wrap: (shipped: Absorb) => Absorb): void => {
  store.absorb = wrap(store.absorb.bind(store));
};

const clear = (store: FarmStore, name: string): Promise<void> =>
  innerOf(store).write((tx: Tx) => tx.objectStore(name).clear());

async function dropWhere(store: FarmStore, drop: (m: Mutation) => boolean): Promise<void> {
  const waiting = await store.waiting();
  await innerOf(store).write(async (tx) => {
    for (const w of waiting)
      if (drop(JSON.parse(w.text) as Mutation)) await tx.objectStore('outbox').delete(w.n);
  });
}

type Plant = (store: FarmStore, phone: Phone) => void;

const stores: Record<string, Plant> = {
  ackClearsOutbox: (s) =>
    around(s, (shipped) => async (asked, res, now) => {
      await shipped(asked, res, now);
      if (res.acks.length > 0) await clear(s, 'outbox');
    }),
  cloneUnnoticed: (s) =>
    around(s, (shipped) => (asked, res, now) => {
      for (const ack of res.acks) if (ack.outcome === 'cloned') ack.outcome = 'applied';
      return shipped(asked, res, now);
    }),
  resetClearsOutbox: (s) =>
    around(s, (shipped) => async (asked, res, now) => {
      await shipped(asked, res, now);
      if (res.reset) await clear(s, 'outbox');
    }),
  sentForgottenAtOnce: (s) =>
    around(s, (shipped) => async (asked, res, now) => {
      await shipped(asked, res, now);
      await clear(s, 'sent');
    }),
  rowsOverUnsent: (s) =>
    around(s, (shipped) => async (asked, res, now) => {
      await shipped(asked, res, now);
      const came = new Set(res.rows.map((row) => row.id));
      await dropWhere(s, (m) => came.has(m.rec));
    }),
  cursorFirst: (s) =>
    around(s, (shipped) => async (asked, res, now) => {
      if (!res.reset) await innerOf(s).write((tx) => advance(tx, res));
      await shipped(asked, res, now);
    }),
  quarantineBlocks: (s) =>
    around(s, (shipped) => (asked, res, now) => {
      const at = res.acks.findIndex((ack) => ack.outcome === 'quarantined');
      return shipped(asked, at < 0 ? res : { ...res, acks: res.acks.slice(0, at) }, now);
    }),
  tombstonesIgnored: (s) =>
    around(s, (shipped) => (asked, res, now) =>
      shipped(asked, { ...res, rows: res.rows.filter((row) => !row.deleted) }, now),
    ),
  resetMerges: (s) =>
    around(s, (shipped) => (asked, res, now) =>
      shipped({ ...asked, cursor: asked.cursor || 1 }, res, now),
    ),
  cursorIsHead: (s) =>
    around(s, (shipped) => (asked, res, now) => shipped(asked, { ...res, cursor: res.head }, now)),
  epochIgnored: (s) => {
    s.offerAgain = () => Promise.resolve(true);
    s.offerAll = () => Promise.resolve(undefined);
  },
  numberApart: (s) => void (s.keep = (edits, time) => keepApart(s, edits, time)),
  keptTooSoon: (s) => {
    const shipped = s.keep.bind(s);
    s.keep = (edits, time, draft) => {
      shipped(edits, time, draft).catch(() => undefined);
      return Promise.resolve();
    };
  },
  draftDroppedFirst: (s) => {
    const shipped = s.keep.bind(s);
    s.keep = async (edits, time, draft) => {
      if (draft !== undefined) await s.dropDraft(draft);
      return shipped(edits, time);
    };
  },
  renumberLoses: (s) => {
    const shipped = s.becomeDevice.bind(s);
    s.becomeDevice = async (device) => {
      await clear(s, 'outbox');
      await shipped(device);
    };
  },
  placeUnnamed: (s) => {
    const [one, all] = [s.becomeDevice.bind(s), s.offerAll.bind(s)];
    s.becomeDevice = async (device) => {
      await one(device);
      await innerOf(s).write(unnamed);
    };
    s.offerAll = async (make) => {
      const device = await all(make);
      if (device !== undefined) await innerOf(s).write(unnamed);
      return device;
    };
  },
  formerNotOffered: (s) => {
    s.offerAll = async () => {
      await s.offerAgain(1);
      return undefined;
    };
  },
  formerOfferedLast: (s) => {
    const shipped = s.offerAll.bind(s);
    s.offerAll = async (make) => {
      const before = await s.state();
      const device = await shipped(make);
      if (device !== undefined) await innerOf(s).write((tx) => formersLast(tx, before.device));
      return device;
    };
  },
  viewWithoutOutbox: (s) => {
    const shipped = s.view.bind(s);
    s.view = async () => new Map([...(await shipped())].filter(([, seen]) => !seen.pending));
  },
  updateClearsOutbox: (s, phone) => {
    if (phone.life > 0) void clear(s, 'outbox').catch(() => undefined);
  },
  phoneClockForgets: (s, phone) => {
    s.forget = async () => {
      const oldest = new Date(phone.clock() - 30 * 24 * 3600_000).toISOString();
      await innerOf(s).write(async (tx) => {
        const sent = tx.objectStore('sent');
        const keys = await sent.getAllKeys();
        const all = (await sent.getAll()) as { at: string }[];
        for (const [i, { at }] of all.entries()) if (at < oldest) await sent.delete(keys[i]);
      });
    };
  },
};

async function advance(tx: Tx, res: SyncResponse): Promise<void> {
  const sync = tx.objectStore('sync');
  const state = (await sync.get('state')) as object;
  await sync.put({ ...state, cursor: res.cursor, epoch: res.epoch }, 'state');
}

async function keepApart(s: FarmStore, edits: readonly Edit[], phoneTime: string): Promise<void> {
  const state = await s.state();
  let n = state.nextN;
  await innerOf(s).write(async (tx) => {
    for (const edit of edits) {
      const text = JSON.stringify({ n, schema: 1, ...edit, phoneTime });
      await tx.objectStore('outbox').put(text, n++);
    }
  });
  await innerOf(s).write((tx) => tx.objectStore('sync').put({ ...state, nextN: n }, 'state'));
}

/** An entry that does not say where it was first. */
async function unnamed(tx: Tx): Promise<void> {
  const outbox = tx.objectStore('outbox');
  for (const text of (await outbox.getAll()) as string[]) {
    const { was: _, ...m } = JSON.parse(text) as Mutation;
    await outbox.put(JSON.stringify(m), m.n);
  }
}

/** What went out under former ids comes after all else, as the newest work. */
async function formersLast(tx: Tx, last: string): Promise<void> {
  const outbox = tx.objectStore('outbox');
  const list = ((await outbox.getAll()) as string[]).map((t) => JSON.parse(t) as Mutation);
  const older = list.filter((m) => m.was?.device !== last);
  const newer = list.filter((m) => m.was?.device === last);
  let n = 1;
  for (const { was, ...m } of [...newer, ...older]) {
    await outbox.put(JSON.stringify({ ...m, n, ...(was ? { was } : {}) }), n);
    n++;
  }
}

type Send = (text: string) => Promise<SyncResponse>;

const sends: Record<string, (store: FarmStore, send: Send) => Send> = {
  deletedOnSend: (s, send) => async (text) => {
    const sent = new Set((JSON.parse(text) as { push: Mutation[] }).push.map((m) => m.n));
    await dropWhere(s, (m) => sent.has(m.n));
    return send(text);
  },
  deletedOn401: (s, send) => (text) =>
    send(text).catch(async (error: unknown) => {
      if (error instanceof Refused && error.status === 401) await clear(s, 'outbox');
      throw error;
    }),
  newNumbersOnRetry: (s, send) => (text) =>
    send(text).catch(async (error: unknown) => {
      await innerOf(s).write(renumbered);
      throw error;
    }),
};

async function renumbered(tx: Tx): Promise<void> {
  const outbox = tx.objectStore('outbox');
  const sync = tx.objectStore('sync');
  const state = (await sync.get('state')) as { nextN: number };
  const texts = (await outbox.getAll()) as string[];
  await outbox.clear();
  let n = state.nextN;
  for (const text of texts) {
    await outbox.put(JSON.stringify({ ...(JSON.parse(text) as Mutation), n }), n);
    n++;
  }
  await sync.put({ ...state, nextN: n }, 'state');
}

export const plants: readonly string[] = [
  ...server.map((name) => `server.${name}`),
  ...Object.keys(stores),
  ...Object.keys(sends),
  'wallClockWaits',
  'registryStale',
  'photoForgotten',
  'photosFirst',
];

export function plantStore(store: FarmStore, phone: Phone): FarmStore {
  stores[phone.world.planted]?.(store, phone);
  return store;
}

export const plantSend = (phone: Phone, store: FarmStore, send: Send): Send =>
  sends[phone.world.planted]?.(store, send) ?? send;

/** The clock that the loop waits by. */
export const plantLoop = (phone: Phone, right: () => number): (() => number) =>
  phone.world.planted === 'wallClockWaits' ? () => phone.clock() : right;
