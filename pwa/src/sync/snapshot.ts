// The packed account of a first load, unpacked: the format stands in the server's package snapshot.
import { Refused, Unreachable } from '../net/api';
import type { Row } from '../wire.gen';

type Steps = readonly (number | null)[];

type Column =
  | { readonly t: 'o'; readonly c: { readonly [name: string]: Column } }
  | { readonly t: 'l'; readonly n: Steps; readonly c: Column }
  | { readonly t: 'r'; readonly c: Steps }
  | { readonly t: 'v'; readonly c: readonly unknown[] };

interface Table {
  readonly kind: string;
  readonly count: number;
  readonly id: Steps;
  readonly seq: readonly number[];
  readonly by: Steps;
  readonly body: Column;
}

interface Packed {
  readonly format: number;
  readonly epoch: string;
  readonly seq: number;
  readonly ids: string;
  readonly kinds: readonly Table[];
}

/** An account as it stood at one change number. */
export interface Snapshot {
  epoch: string;
  seq: number;
  rows: Row[];
}

const knownFormat = 1;
const idLetters = 36;

/** All ids as they are written, one after the other: cutting one out then costs next to nothing. */
const dashed = (ids: string): string =>
  ids.replace(/(.{8})(.{4})(.{4})(.{4})(.{12})/g, '$1-$2-$3-$4-$5');

const idAt = (ids: string, place: number): string =>
  ids.slice(idLetters * place, idLetters * (place + 1));

function places(ids: string, steps: Steps): (string | null)[] {
  let at = 0;
  return steps.map((step) => {
    if (step === null) return null;
    at += step;
    return idAt(ids, at);
  });
}

function objects(ids: string, parts: { readonly [name: string]: Column }, count: number) {
  const out: ({ [name: string]: unknown } | null)[] = new Array(count).fill(null);
  for (const [name, part] of Object.entries(parts)) {
    const values = column(ids, part, count);
    for (let i = 0; i < count; i++) {
      const value = values[i];
      if (value === null || value === undefined) continue;
      (out[i] ??= {})[name] = value;
    }
  }
  return out;
}

function lists(ids: string, lengths: Steps, content: Column): (unknown[] | null)[] {
  const total = lengths.reduce<number>((sum, n) => sum + (n ?? 0), 0);
  const items = column(ids, content, total);
  let at = 0;
  return lengths.map((n) => {
    if (n === null) return null;
    at += n;
    return items.slice(at - n, at);
  });
}

function column(ids: string, c: Column, count: number): readonly unknown[] {
  if (c.t === 'o') return objects(ids, c.c, count);
  if (c.t === 'l') return lists(ids, c.n, c.c);
  return c.t === 'r' ? places(ids, c.c) : c.c;
}

function rowsOf(ids: string, table: Table): Row[] {
  const [own, by] = [places(ids, table.id), places(ids, table.by)];
  const bodies = column(ids, table.body, table.count);
  let seq = 0;
  return own.map((id, i) => {
    seq += table.seq[i] ?? 0;
    const writer = by[i];
    const row: Row = { id: id ?? '', kind: table.kind, seq, body: bodies[i] ?? {} };
    if (writer) row.by = writer;
    return row;
  });
}

/** Any refusal means: load by pages. No answer at all is the courier's to handle. */
export async function packedAccount(load: () => Promise<string>): Promise<Snapshot | undefined> {
  try {
    return unpack(await load());
  } catch (error) {
    if (error instanceof Unreachable) throw error;
    if (error instanceof Refused && error.status === 401) throw error;
    return undefined;
  }
}

/** Unpacks a document; undefined for a format that this program does not know. */
export function unpack(text: string): Snapshot | undefined {
  const packed = JSON.parse(text) as Packed;
  if (packed.format !== knownFormat) return undefined;
  const ids = dashed(packed.ids);
  const rows = packed.kinds.flatMap((table) => rowsOf(ids, table));
  return { epoch: packed.epoch, seq: packed.seq, rows };
}
