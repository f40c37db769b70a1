// The open digs of this device. Every change goes to the disk at once; the newest state wins when
// taps come faster than the disk.
import { batch, effect, signal } from '@preact/signals';
import {
  begin,
  digOf,
  draftKey,
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

/** How the plants of a field are judged this year, by its crop and the account's rule. */
export function judgedOf(field: string): Judged {
  const year = yearDug(today.value);
  const crop = seasons.value.get(field)?.find((s) => s.body.cropYear === year)?.body.crop;
  if (!crop || !COUNTED.includes(crop)) return 'clusters';
  return settings.value?.rules?.soybeanCount === 'sevenPink2mm' ? 'pink' : 'count';
}

/** Opens a dig where none is open; with a place, the next plants are dug there. */
export function startDig(field: string, place?: Place): void {
  const open = drafts.value.get(field);
  const draft =
    open ?? begin(newId(Date.now()), field, yearDug(today.value), today.value, judgedOf(field));
  if (!open || place) put(place ? nextSpot(draft, newId(Date.now()), place) : draft);
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

/** Drops a dig in which nothing was counted. */
export async function dropEmptyDig(field: string): Promise<void> {
  const draft = drafts.value.get(field);
  const store = open.value?.store;
  if (!draft || !store || plantCount(draft) > 0) return;
  await writing;
  await guarded(() => store.dropDraft(draftKey(field)));
  forget(field);
}
