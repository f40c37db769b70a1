// What the end of the day has to show: field by field, how much was entered on this phone and how
// much of it the farm server has.
import type { Sent } from '../db/schema';
import type { Waiting } from '../db/farm';
import type { Mutation } from '../wire.gen';
import { view } from './records';

export interface FieldCount {
  /** Empty for what belongs to no field. */
  field: string;
  here: number;
  atServer: number;
}

const dayMS = 24 * 3600_000;

/** The field an entry belongs to: said by itself, or by the record that it changes. */
export function fieldOf(m: Mutation): string {
  if (m.kind === 'field') return m.rec;
  const said = m.set?.['field'] ?? (view.value.get(m.rec)?.body as { field?: unknown })?.field;
  return typeof said === 'string' ? said : '';
}

/** Entries of a day and whatever still waits. An entry that was refused has not arrived. */
export function countByField(
  waiting: readonly Waiting[],
  sent: readonly Sent[],
  nowMS: number,
): FieldCount[] {
  const counts = new Map<string, FieldCount>();
  const add = (text: string, arrived: boolean) => {
    const field = fieldOf(JSON.parse(text) as Mutation);
    const count = counts.get(field) ?? { field, here: 0, atServer: 0 };
    counts.set(field, {
      field,
      here: count.here + 1,
      atServer: count.atServer + (arrived ? 1 : 0),
    });
  };
  for (const w of waiting) add(w.text, false);
  for (const s of sent) {
    const refused = s.outcome === 'quarantined';
    if (refused ? !s.seen : Date.parse(s.at) > nowMS - dayMS) add(s.text, !refused);
  }
  return [...counts.values()];
}
