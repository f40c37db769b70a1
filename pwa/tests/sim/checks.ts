// The invariants. Each throws with its name; the names stand in DEVELOPERS.md.
import type { Mutation, Row } from '../../src/wire.gen';
import type { Logged, ServerState } from './door';
import type { FarmStore } from '../../src/db/farm';
import { keyOf, type Phone } from './phone';
import { innerOf } from './store';
import { drive } from './turns';
import { Violation, type World } from './world';

const want = (ok: boolean, invariant: string, detail: () => string): void => {
  if (!ok) throw new Violation(invariant, detail());
};

interface Kept {
  waiting: { n: number; text: string }[];
  held: Set<string>;
}

async function held(store: FarmStore): Promise<Kept | undefined> {
  const waiting = await drive(store.waiting());
  const sent = await drive(store.sent());
  if (!waiting || !sent) return undefined;
  const texts = [...waiting, ...sent.map((s) => ({ text: s.text }))];
  return { waiting, held: new Set(texts.map((w) => keyOf(w.text))) };
}

/** What a person was told is kept is on the phone or at the server; so are drafts. */
export async function kept(world: World, phone: Phone): Promise<void> {
  const { store } = phone;
  const have = await held(store);
  const drafts = await drive(store.drafts());
  if (!have || !drafts || !phone.up) return;
  const somewhere = (key: string) => have.held.has(key) || world.keys.has(key);
  for (const k of phone.kept)
    want(!k.promised || somewhere(k.key), 'kept is kept', () => `phone ${phone.no}: ${k.key}`);
  const open = new Set(drafts.map((d) => JSON.stringify(d)));
  for (const edit of phone.drafts.values()) {
    const raw = JSON.stringify(edit);
    want(open.has(raw) || somewhere(keyOf(raw)), 'drafts stay', () => `phone ${phone.no}: ${raw}`);
  }
  const numbers = have.waiting.map((w) => (JSON.parse(w.text) as Mutation).n);
  const right = have.waiting.every((w, i) => w.n === numbers[i]);
  want(right, 'number is the bytes', () => `phone ${phone.no}: ${numbers.join(' ')}`);
  await ownInView(phone, have.waiting);
}

/** A phone sees its own unsent edits, whatever was pulled under them. */
async function ownInView(phone: Phone, waiting: { text: string }[]): Promise<void> {
  const view = await drive(phone.store.view());
  if (!view) return;
  const last = new Map<string, Mutation>();
  for (const w of waiting) {
    const m = JSON.parse(w.text) as Mutation;
    last.set(m.rec, m);
  }
  for (const m of last.values()) {
    const body = view.get(m.rec)?.body;
    if (m.del) want(!body, 'own edits show', () => `phone ${phone.no}: ${m.rec} is deleted here`);
    for (const [field, value] of Object.entries(m.set ?? {}))
      want(
        JSON.stringify(body?.[field]) === JSON.stringify(value),
        'own edits show',
        () => `phone ${phone.no}: ${field} of ${m.rec}`,
      );
  }
}

const bySeq = (a: Row, b: Row): number => a.seq - b.seq;

async function baseOf(phone: Phone): Promise<Row[] | undefined> {
  const { handle } = innerOf(phone.store);
  const pages = await drive(handle.use<{ rows: Row[] }[]>((db) => db.getAll('page')));
  return pages?.flatMap((p) => p.rows).sort(bySeq);
}

/** At cursor c a phone's base is what the server shows of the changes up to c. */
export async function cut(world: World, phone: Phone): Promise<void> {
  const { store } = phone;
  const base = await baseOf(phone);
  const state = await drive(store.state());
  if (!base || !state || state.epoch !== world.epoch) return;
  const now = world.ask({ op: 'rows' });
  const have = new Map(base.map((row) => [row.id, row.seq]));
  for (const row of now.rows ?? [])
    if (row.seq <= state.cursor)
      want(have.get(row.id) === row.seq, 'no gap in the feed', () => {
        return `phone ${phone.no} at ${state.cursor} lacks ${row.id} of ${row.seq}`;
      });
  const ahead = base.find((row) => row.seq > state.cursor);
  want(!ahead, 'cursor with its rows', () => `phone ${phone.no}: ${ahead?.seq} > ${state.cursor}`);
}

/** True when this phone has nothing to send and stands at the server's head. */
export async function settled(world: World, phone: Phone): Promise<boolean> {
  const waiting = await drive(phone.store.waiting());
  const state = await drive(phone.store.state());
  const { head } = world.ask({ op: 'rows' });
  return !!state && waiting?.length === 0 && state.cursor === head && state.epoch === world.epoch;
}

/** True when a shut-out phone has handed all in, if the server knows it to give it a ticket. */
export async function handedIn(world: World, phone: Phone): Promise<boolean> {
  if (!phone.revoked || !world.knows(phone.device)) return true;
  return (await drive(phone.store.waiting()))?.length === 0;
}

/** All phones show the same, value for value, and the same as the server. */
export async function converged(world: World, phones: readonly Phone[]): Promise<void> {
  const rows = (world.ask({ op: 'rows' }).rows ?? []).sort(bySeq);
  const server = JSON.stringify(rows.map(sorted));
  for (const phone of phones) {
    const base = await baseOf(phone);
    want(JSON.stringify(base?.map(sorted)) === server, 'convergence', () => {
      const mine = new Map((base ?? []).map((r) => [r.id, JSON.stringify(sorted(r))]));
      const other = rows.find((r) => mine.get(r.id) !== JSON.stringify(sorted(r)));
      return `phone ${phone.no}: ${base?.length} and ${rows.length} rows, ${JSON.stringify(other)}`;
    });
  }
}

const applied = new Set(['applied', 'merged', 'conflict']);

/** What must hold of the server's account when all is quiet. */
export function stored(world: World, state: ServerState, phones: readonly Phone[]): void {
  const seen = new Set<string>();
  const count = new Map<string, number>();
  for (const m of state.mutations) {
    const id = `${m.device}/${m.n}`;
    want(!seen.has(id), 'exactly once', () => `${id} is stored twice`);
    seen.add(id);
    if (m.repeat) continue;
    const key = keyOf(m.raw);
    count.set(key, (count.get(key) ?? 0) + 1);
  }
  for (const id of world.log.keys())
    want(seen.has(id), 'acked is stored', () => `${id} was stored and is gone`);
  // A copy of a phone shares what was kept before; that is one entry, whoever brings it.
  const asked = new Map<string, number>();
  for (const k of new Set(phones.flatMap((phone) => phone.kept)))
    asked.set(k.key, (asked.get(k.key) ?? 0) + 1);
  for (const [key, times] of count)
    want(times <= (asked.get(key) ?? 0), 'exactly once', () => `${times} times ${key}`);
  for (const phone of phones)
    for (const k of phone.kept)
      want(!k.promised || phone.revoked || count.has(k.key), 'no loss', () => {
        return `phone ${phone.no}: ${k.key}`;
      });
  dense(state);
  ownOrder(state, phones);
  firstOrder(state, phones);
  for (const m of state.mutations) if (!m.repeat && applied.has(m.outcome)) values(state, m);
}

/** Nothing that a phone set shows in the place of what the same phone set there later. */
function ownOrder(state: ServerState, phones: readonly Phone[]): void {
  const taken = new Set<string>();
  for (const m of state.mutations) if (applied.has(m.outcome)) taken.add(keyOf(m.raw));
  for (const phone of phones) {
    const last = new Map<string, string>();
    const before = new Map<string, string>();
    for (const { key, edit } of phone.kept) {
      if (!taken.has(key) || edit.kind === 'settle') continue;
      for (const [field, value] of Object.entries(edit.set ?? {})) {
        const where = `${edit.rec} ${field}`;
        const older = last.get(where);
        if (older !== undefined) before.set(`${where} ${older}`, key);
        last.set(where, bare(value));
      }
    }
    for (const [rec, body] of Object.entries(state.bodies)) {
      if (state.contested[rec] || body === 'deleted') continue;
      for (const [field, value] of Object.entries(JSON.parse(body) as object)) {
        if (!bare(value).startsWith('(')) continue; // a word of the editor's, which nobody sets twice
        const where = `${rec} ${field}`;
        const later = before.get(`${where} ${bare(value)}`);
        const stale = later !== undefined && last.get(where) !== bare(value);
        want(!stale, 'own order', () => `phone ${phone.no}: ${where} ${bare(value)}, later ${later}`);
      }
    }
  }
}

/** What a phone brought under a new id came in the order in which it was kept. */
function firstOrder(state: ServerState, phones: readonly Phone[]): void {
  for (const { no, ids } of phones) {
    const last = new Map<string, [number, number]>();
    for (const { device, n, was } of state.mutations) {
      if (!was || !ids.includes(device) || !ids.includes(was.device)) continue;
      const [rank, first] = last.get(device) ?? [-1, 0];
      const now = ids.indexOf(was.device);
      want(now > rank || (now === rank && was.n > first), 'own order', () => {
        return `phone ${no}: ${device}/${n} was ${was.device}/${was.n}, after ${ids[rank]}/${first}`;
      });
      last.set(device, [now, was.n]);
    }
  }
}

/**
 * What was in a record once is in it again after a restore. It may wait only for a record that no
 * phone could bring back, and never for one that is there.
 */
export function refilled(world: World, state: ServerState): void {
  for (const m of state.mutations) {
    if (m.outcome !== 'quarantined' || m.repeat) continue;
    const lost = m.lacks !== undefined && state.texts[m.lacks] === undefined;
    const what = () => `${m.device}/${m.n} lacks ${m.lacks}: ${m.raw}`;
    want(m.lacks === undefined || lost, 'what was lacking is taken up', what);
    if (!world.accepted.has(`${m.device}/${m.n} ${keyOf(m.raw)}`)) continue;
    want(lost, 'a restore refuses nothing for good', what);
    world.saw('restore.waits');
  }
}

/** Only what is wrong in itself, or points to what is, is refused; or what a role may not write. */
export function refused(state: ServerState, wrong: ReadonlySet<string>): void {
  for (const m of state.mutations) {
    if (m.outcome !== 'quarantined' || m.lacks !== undefined || m.why === 'role') continue;
    if (m.repeat) continue;
    const known = wrong.has(keyOf(m.raw)) || m.raw.includes('"no id"');
    want(known, 'only what is wrong is refused', () => `${m.why}: ${m.device}/${m.n} ${m.raw}`);
  }
}

/** Each phone knows what became in the end of all it sent. */
export async function told(state: ServerState, phones: readonly Phone[]): Promise<void> {
  const now = new Map(state.mutations.map((m) => [`${m.device}/${m.n}`, m.outcome]));
  for (const phone of phones)
    for (const s of (await drive(phone.store.sent())) ?? []) {
      const id = `${s.device}/${s.n}`;
      const { outcome } = s;
      want((now.get(id) ?? outcome) === outcome, 'outcomes are told', () => {
        return `phone ${phone.no} has ${outcome} for ${id}, the server ${now.get(id)}`;
      });
    }
}

function dense(state: ServerState): void {
  const byDevice = new Map<string, number>();
  for (const m of state.mutations) {
    const last = byDevice.get(m.device) ?? 0;
    want(m.n === last + 1, 'numbers are dense', () => `${m.device}: ${m.n} after ${last}`);
    byDevice.set(m.device, m.n);
  }
  let head = state.saves[0]?.[0];
  for (const [from, to] of state.saves) {
    want(from === head, 'feed is dense', () => `from ${from} after ${head}`);
    head = to;
  }
}

/** Every value once set is shown, or in the history; nobody's edit stays under a deletion. */
function values(state: ServerState, logged: Logged): void {
  const { raw, seq, outcome } = logged;
  const m = JSON.parse(raw) as Mutation;
  if (m.kind === 'settle') return;
  const text = state.texts[m.rec] ?? '';
  for (const value of Object.values(m.set ?? {}))
    want(text.includes(bare(value)), 'no value lost', () => `${bare(value)} of ${m.rec}`);
  if (outcome === 'conflict')
    want(!!state.contested[m.rec], 'conflicts are listed', () => `${m.rec} at ${seq}`);
  const gone = state.deleted[m.rec];
  const stays = gone === undefined || m.del === true || seq <= gone || ownLater(state, logged, gone);
  want(stays, 'an edit revives', () => m.rec);
}

/** Judged again after it, an edit comes before the deletion by the same phone, as it was entered. */
function ownLater(state: ServerState, { device, n }: Logged, gone: number): boolean {
  return state.mutations.some((d) => d.seq === gone && d.device === device && d.n > n);
}

const bare = (value: unknown): string =>
  typeof value === 'string' ? value : JSON.stringify(sorted(value));

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([k, v]) => [k, sorted(v)]));
}
