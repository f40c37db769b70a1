// The open digs of this device. Every change goes to the disk at once; the newest state wins when
// taps come faster than the disk.
import { batch, signal } from '@preact/signals';
import { begin, digOf, draftKey, photosOf, plantCount, type DigDraft } from '../dig/draft';
import { newId } from '../id';
import { guarded, keep, keeping } from './keep';
import { planYear, today } from './records';
import { open } from './session';

export const drafts = signal<ReadonlyMap<string, DigDraft>>(new Map());

export async function loadDrafts(): Promise<void> {
  const list = ((await open.value?.store.drafts()) ?? []) as DigDraft[];
  drafts.value = new Map(list.map((d) => [d.field, d]));
}

export function startDig(field: string): void {
  if (drafts.value.has(field)) return;
  put(begin(newId(Date.now()), field, planYear.value, today.value));
}

let writing: Promise<unknown> = Promise.resolve();
const queued = new Map<string, DigDraft>();

/** Shows a changed draft and writes it; in the same moment the screen stops saying "kept". */
export function put(draft: DigDraft): void {
  batch(() => {
    keeping.value++;
    drafts.value = new Map(drafts.value).set(draft.field, draft);
  });
  queued.set(draft.field, draft);
  writing = writing.then(() => writeQueued(draft.field)).finally(() => keeping.value--);
}

async function writeQueued(field: string): Promise<void> {
  const draft = queued.get(field);
  const store = open.value?.store;
  if (!draft || !store) return;
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
