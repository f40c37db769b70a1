// The open digs of this device. Every change goes to the disk at once; the newest state wins when
// taps come faster than the disk.
import { batch, computed, effect, signal } from '@preact/signals';
import {
  begin,
  digOf,
  draftKey,
  isBlank,
  nextSpot,
  photosOf,
  plantCount,
  type DigDraft,
  type Judged,
  type Page,
  type Place,
  yearDug,
} from '../dig/draft';
import { newId } from '../id';
import { COUNTED } from '../wire.gen';
import { guarded, keep, keeping } from './keep';
import { seasons, settings, today } from './records';
import type { FarmStore } from '../db/farm';
import { open } from './session';

export const drafts = signal<ReadonlyMap<string, DigDraft>>(new Map());

/** Those that hold work; one that was only looked at is none. */
export const openDigs = computed(() => [...drafts.value.values()].filter((d) => !isBlank(d)));

let loadedFrom: FarmStore | undefined;
let loading: Promise<void> = Promise.resolve();

/** Reads the open digs of whoever's data is open now. */
async function loadDrafts(): Promise<void> {
  const store = open.value?.store;
  loadedFrom = store;
  const list = ((await store?.drafts(draftKey(''))) ?? []) as DigDraft[];
  if (open.value?.store === store) drafts.value = new Map(list.map((d) => [d.field, d]));
}

// Another person, or practice: the digs of the one before are not theirs.
effect(() => {
  if (open.value?.store === loadedFrom) return;
  drafts.value = new Map();
  loading = loadDrafts();
});

/** Resolves when the open digs of whoever's data is open now are here. */
export const draftsLoaded = (): Promise<void> => loading;

/** How the plants of a field are judged in a year, by its crop and the account's rule. */
export function judgedOf(field: string, year = yearDug(today.value)): Judged {
  const crop = seasons.value.get(field)?.find((s) => s.body.cropYear === year)?.body.crop;
  if (!crop || !COUNTED.includes(crop)) return 'clusters';
  return settings.value?.rules?.soybeanCount === 'sevenPink2mm' ? 'pink' : 'count';
}

const begun = (field: string, day: string): DigDraft =>
  begin(newId(Date.now()), field, yearDug(day), day, judgedOf(field, yearDug(day)));

/**
 * Opens a dig where none is open; with a place, the next plants are dug there. One that holds no
 * work is begun anew: its day may be that of last week.
 */
export function startDig(field: string, place?: Place): void {
  const open = drafts.value.get(field);
  const held = open && !isBlank(open) ? open : undefined;
  const draft = held ?? begun(field, today.value);
  if (!held || place) put(place ? nextSpot(draft, newId(Date.now()), place) : draft);
}

/** Goes on with the dig that a screen shows; one of another day without work is begun anew. */
export function resumeDig(field: string): void {
  const open = drafts.peek().get(field);
  if (!open || (isBlank(open) && !open.paper && open.date !== today.peek())) startDig(field);
}

/**
 * Opens a dig for what was written on paper, under its own day. An open one of another day stays as
 * it is, since its plants were dug on that day: then this gives that day instead.
 */
export function startPaperDig(field: string, day: string): string | undefined {
  const open = drafts.value.get(field);
  if (open && !isBlank(open)) return open.date === day ? undefined : open.date;
  put({ ...begun(field, day), paper: true });
  return undefined;
}

/** Turns to another page of the open dig; which one is kept too, for a call or a kill. */
export const turnTo = (draft: DigDraft, page: Page): void => put({ ...draft, page });

let writing: Promise<unknown> = Promise.resolve();
const queued = new Map<string, { draft: DigDraft; store: FarmStore }>();

/** Shows a changed draft and writes it; in the same moment the screen stops saying "kept". */
export function put(draft: DigDraft): void {
  const store = open.value?.store;
  if (!store) return;
  batch(() => {
    keeping.value++;
    drafts.value = new Map(drafts.value).set(draft.field, draft);
  });
  queued.set(draft.field, { draft, store });
  writing = writing.then(() => writeQueued(draft.field)).finally(() => keeping.value--);
}

async function writeQueued(field: string): Promise<void> {
  const next = queued.get(field);
  if (!next) return;
  const { draft, store } = next;
  queued.delete(field);
  await guarded(() => store.putDraft(draftKey(field), draft));
}

function forget(field: string): void {
  const left = new Map(drafts.value);
  left.delete(field);
  drafts.value = left;
}

/** Closes a dig: one mutation with all its plants, in one transaction with the draft's end. */
export async function closeDig(field: string): Promise<boolean> {
  const draft = drafts.value.get(field);
  if (!draft || plantCount(draft) === 0) return false;
  await writing;
  const set = digOf(draft) as unknown as Record<string, unknown>;
  const edit = { rec: draft.id, kind: 'dig', base: 0, set };
  const photos = photosOf(draft).map((photo) => ({
    rec: newId(Date.now()),
    kind: 'photo',
    base: 0,
    set: { ...photo },
  }));
  const done = await keep([edit, ...photos], draftKey(field));
  if (done) forget(field);
  return done;
}

/** Drops a dig in which no plant was counted. */
export function dropDig(field: string): void {
  const draft = drafts.peek().get(field);
  const store = open.peek()?.store;
  if (!draft || !store || plantCount(draft) > 0) return;
  forget(field);
  // Behind what is still being written, so that nothing of it comes back.
  writing = writing.then(() => store.dropDraft(draftKey(field))).catch(() => undefined);
}

/** Leaves no trace of a dig that was only looked at. */
export function leaveDig(field: string): void {
  const draft = drafts.peek().get(field);
  if (draft && isBlank(draft)) dropDig(field);
}
