// View = base overlaid by what is not yet in it, value by value. No policy: merging is the
// server's work.
import type { Mutation, Row } from '../wire.gen';

/** A record as the screens see it. */
export interface Seen {
  id: string;
  kind: string;
  /** Change number of the base row; 0 for a record that only this device knows. */
  seq: number;
  body: Readonly<Record<string, unknown>>;
  /** Something in it is still only on this device. */
  pending: boolean;
}

const bodyOf = (row: Row | Seen): Record<string, unknown> =>
  typeof row.body === 'object' && row.body !== null ? (row.body as Record<string, unknown>) : {};

export function fromBase(rows: Iterable<Row>): Map<string, Seen> {
  const view = new Map<string, Seen>();
  for (const row of rows) {
    const { id, kind, seq } = row;
    view.set(id, { id, kind, seq, body: bodyOf(row), pending: false });
  }
  return view;
}

/** Puts one mutation over the view. */
export function lay(view: Map<string, Seen>, m: Mutation, pending: boolean): void {
  const old = view.get(m.rec);
  if (m.del) {
    view.delete(m.rec);
    return;
  }
  const body = { ...(old ? bodyOf(old) : {}) };
  for (const [field, value] of Object.entries(m.set ?? {})) {
    if (value === null) delete body[field];
    else body[field] = value;
  }
  const seq = old?.seq ?? 0;
  view.set(m.rec, { id: m.rec, kind: m.kind, seq, body, pending: pending || !!old?.pending });
}
