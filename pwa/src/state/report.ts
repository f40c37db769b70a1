// Reports computed on this device, by field and crop year, computed anew when their records change.
import { effect, signal, type Signal } from '@preact/signals';
import { evaluateCase, NoCase, type CaseRecord, type Evaluated } from '../engine/bridge';
import type { Problem } from '../wire.gen';
import { caseOf } from './records';

export type ReportState =
  | { at: 'waiting' }
  | { at: 'here'; evaluated: Evaluated }
  | { at: 'none'; problem: Problem }
  | { at: 'failed'; message: string };

/** Asks the engine; failures are states for a screen to say, never silent. */
export async function compute(
  records: readonly CaseRecord[],
  field: string,
  cropYear: number,
): Promise<ReportState> {
  try {
    return { at: 'here', evaluated: await evaluateCase(records, field, cropYear) };
  } catch (error) {
    if (error instanceof NoCase) return { at: 'none', problem: error.problem };
    return { at: 'failed', message: error instanceof Error ? error.message : String(error) };
  }
}

interface Entry {
  state: Signal<ReportState>;
  stop: () => void;
}

const entries = new Map<string, Entry>();
const mostEntries = 200;

/** The report of one field and crop year, following its records. */
export function report(field: string, cropYear: number): Signal<ReportState> {
  const key = `${field}/${cropYear}`;
  const known = entries.get(key);
  if (known) return known.state;
  const state = signal<ReportState>({ at: 'waiting' });
  let last = '';
  const stop = effect(() => {
    const records = caseOf(field);
    const asked = JSON.stringify(records);
    if (asked === last) return;
    last = asked;
    void compute(records, field, cropYear).then((found) => {
      if (asked === last) state.value = found;
    });
  });
  if (entries.size >= mostEntries) dropOldest();
  entries.set(key, { state, stop });
  return state;
}

function dropOldest(): void {
  const [key, entry] = entries.entries().next().value ?? [];
  if (key === undefined) return;
  entry?.stop();
  entries.delete(key);
}

export function forgetReports(): void {
  for (const entry of entries.values()) entry.stop();
  entries.clear();
}
