// Whether a field may be entered now, by the labels of what was put on it. The engine works it out;
// a field on which nothing was put needs no engine.
import { effect, signal, type Signal } from '@preact/signals';
import { orderOf } from '../engine/bridge';
import type { Message } from '../wire.gen';
import { moment } from './clock';
import { passes } from './records';

export interface Entry {
  /** "unknown" = the engine could not be asked: then nobody says that it is safe. */
  state: 'open' | 'ask' | 'closed' | 'unknown';
  until: string;
  why: readonly Message[];
}

const open: Entry = { state: 'open', until: '', why: [] };
const entries = new Map<string, Signal<Entry | undefined>>();

/** Undefined while the engine is being asked. */
export function entryOf(field: string): Signal<Entry | undefined> {
  const known = entries.get(field);
  if (known) return known;
  const entry = signal<Entry | undefined>(undefined);
  entries.set(field, entry);
  let last = '';
  effect(() => {
    const records = (passes.value.get(field) ?? []).map(({ id, kind, body }) => ({ id, kind, body }));
    const now = moment.value;
    const asked = JSON.stringify([now, records]);
    if (asked === last) return;
    last = asked;
    if (records.length === 0) {
      entry.value = open;
      return;
    }
    const show = (found: Entry) => {
      if (asked === last) entry.value = found;
    };
    const round = { now, stops: [{ field, visits: [] }] };
    orderOf(round, records).then(
      ({ turns: [turn] }) => show(turn ? asEntry(turn) : { ...open, state: 'unknown' }),
      () => show({ ...open, state: 'unknown' }),
    );
  });
  return entry;
}

interface Entered {
  entry: string;
  until?: string;
  passes: readonly Message[];
}

function asEntry(turn: Entered): Entry {
  const state = turn.entry === 'closed' || turn.entry === 'ask' ? turn.entry : 'open';
  return { state, until: turn.until ?? '', why: turn.passes };
}
