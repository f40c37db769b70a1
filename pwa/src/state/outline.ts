// What the engine says of an outline, and outlines that are still being made on this device.
import { batch, signal, type Signal } from '@preact/signals';
import { judgeOutline, NoCase } from '../engine/bridge';
import { outlineOf, ringsOf, type Geometry, type Position } from '../outline/shape';
import type { Fix } from '../outline/track';
import type { Outlined, Problem } from '../wire.gen';
import { guarded, keep, keeping } from './keep';
import { all, one, view } from './records';
import { open } from './session';

export type Judgement =
  | { at: 'waiting' }
  | { at: 'here'; outlined: Outlined }
  | { at: 'none'; problem: Problem }
  | { at: 'failed'; message: string };

const known = new Map<string, Signal<Judgement>>();
const mostKnown = 60;

/** Measures and checks an outline; spots below 0 asks for as many as usual, 0 for none. */
export function outlined(
  geometry: Geometry,
  field: string,
  cropYear: number,
  spots: number,
): Signal<Judgement> {
  const area = one('field', field)?.body.area;
  const ask = { outline: geometry, field, cropYear, spots, ...(area ? { area } : {}) };
  const key = JSON.stringify(ask);
  const before = known.get(key);
  if (before) return before;
  const state = signal<Judgement>({ at: 'waiting' });
  judgeOutline(ask).then(
    (outlined) => (state.value = { at: 'here', outlined }),
    (error: unknown) => {
      known.delete(key);
      const message = error instanceof Error ? error.message : String(error);
      state.value =
        error instanceof NoCase ? { at: 'none', problem: error.problem } : { at: 'failed', message };
    },
  );
  const [oldest] = known.keys();
  if (known.size >= mostKnown && oldest !== undefined) known.delete(oldest);
  known.set(key, state);
  return state;
}

export type Way = 'walk' | 'corners' | 'file';

/** An outline on its way. It outlives a kill, like an open dig. */
export interface OutlineDraft {
  field: string;
  way: Way;
  corners: readonly Position[];
  track: readonly Fix[];
  /** What was chosen from a file. */
  chosen?: Geometry;
  /** What was there before each change, newest last. */
  past: readonly Pick<OutlineDraft, 'corners' | 'track'>[];
}

const draftKey = (field: string): string => `outline/${field}`;

/** The one that is open on screen. */
export const outlineDraft = signal<OutlineDraft | undefined>(undefined);

export async function openOutline(field: string, way: Way): Promise<void> {
  const empty: OutlineDraft = { field, way, corners: [], track: [], past: [] };
  const kept = (await open.value?.store.draft(draftKey(field))) as OutlineDraft | undefined;
  outlineDraft.value = kept ?? empty;
}

let writing: Promise<unknown> = Promise.resolve();

/** Shows the draft and writes it; the newest state wins when taps come faster than the disk. */
export function putOutline(draft: OutlineDraft): void {
  batch(() => {
    keeping.value++;
    outlineDraft.value = draft;
  });
  writing = writing.then(() => writeLatest(draft.field)).finally(() => keeping.value--);
}

async function writeLatest(field: string): Promise<void> {
  const store = open.value?.store;
  const latest = outlineDraft.value;
  if (store && latest?.field === field)
    await guarded(() => store.putDraft(draftKey(field), latest));
}

const mostPast = 100;

/** A change that can be taken back. */
export function changeOutline(draft: OutlineDraft, change: Partial<OutlineDraft>): void {
  const { corners, track } = draft;
  putOutline({ ...draft, ...change, past: [...draft.past, { corners, track }].slice(-mostPast) });
}

export function undoOutline(draft: OutlineDraft): void {
  const before = draft.past.at(-1);
  if (before) putOutline({ ...draft, ...before, past: draft.past.slice(0, -1) });
}

/** Keeps an outline as the field's, in one transaction with the draft's end. */
export async function keepOutline(field: string, outline: Geometry): Promise<boolean> {
  await writing;
  const done = await keep([outlineEdit(field, outline)], draftKey(field));
  if (done) outlineDraft.value = undefined;
  return done;
}

export const keepOutlines = (list: readonly (readonly [string, Geometry])[]): Promise<boolean> =>
  keep(list.map(([field, outline]) => outlineEdit(field, outline)));

const outlineEdit = (field: string, outline: Geometry) => ({
  rec: field,
  kind: 'field',
  base: view.value.get(field)?.seq ?? 0,
  set: { outline },
});

/** Where this account's fields lie, but for the one at hand. */
export function homeOf(field: string): Position | undefined {
  for (const f of all('field')) {
    const outline = f.id === field ? undefined : outlineOf(f.body.outline);
    const [first] = outline ? ringsOf(outline).flat() : [];
    if (first) return first;
  }
  return undefined;
}
