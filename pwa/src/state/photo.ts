// Photos of a dig: the bytes kept apart, the records with the dig, the sending behind both.
import { effect, signal } from '@preact/signals';
import { PhotoStore, type Picture } from '../db/photo';
import { runLane, type Said } from '../sync/photo-lane';
import type { Photo } from '../wire.gen';
import { addPhoto, dropPhoto, type DigDraft } from '../dig/draft';
import { newId } from '../id';
import { drafts, dropDig, put } from './dig';
import { keep } from './keep';
import type { Flaw } from './picture';
import { all, one, type Rec } from './records';
import { api, open, syncNow, tally, withToken } from './session';

/** Why a photo was not kept, or what is wrong with one that was. */
export type Trouble = 'none' | 'space' | 'unreadable' | Flaw;

/** How many photos' bytes are only on this device, and may still go. */
export const photosHere = signal(0);

/** Photos that the farm server will never take. They are here alone, until a person lets them go. */
export const photosRefused = signal<readonly Picture[]>([]);

/** How long the server asks this device to wait between photos; 0 = it does not. */
export const photoPauseMS = signal(0);

/** From this share of the space on, photos are refused, so that records still find room. */
const mostShare = 0.8;

let store: { of: string; photos: PhotoStore } | undefined;

function photoStore(): PhotoStore | undefined {
  const owner = open.value?.owner;
  if (!owner) return undefined;
  const of = `${owner.farm}/${owner.person.id}`;
  if (store?.of !== of) {
    void store?.photos.close();
    store = { of, photos: new PhotoStore(owner.farm, owner.person.id) };
  }
  return store.photos;
}

async function isShort(): Promise<boolean> {
  const { usage = 0, quota = 0 } = (await navigator.storage?.estimate?.()) ?? {};
  return quota > 0 && usage / quota > mostShare;
}

/**
 * Keeps a photo of the spot in hand: its bytes at once, its record with the dig. Drawing takes a
 * phone a second or two, and the scout digs on meanwhile: the record joins the dig as it is then.
 */
export async function takePhoto(field: string, file: Blob): Promise<Trouble> {
  const begun = drafts.peek().get(field);
  if (!begun) return 'none';
  const photos = photoStore();
  if (!photos || (await isShort())) return 'space';
  const { draw } = await import('./picture');
  const drawn = await draw(file);
  if (!drawn) return 'unreadable';
  const { bytes, sha256, w, h, thumb, flaw } = drawn;
  const takenAt = new Date().toISOString();
  try {
    await photos.put({ sha256, bytes, takenAt, refused: '' });
  } catch {
    return 'space';
  }
  const spot = begun.spots.at(-1)?.id;
  const of = { field, dig: begun.id, ...(spot ? { spot } : {}) };
  await join(field, begun.id, { ...of, sha256, size: bytes.byteLength, w, h, thumb, takenAt });
  await countPhotos();
  return flaw ?? 'none';
}

/** A photo goes with the open dig; where that was closed meanwhile, it follows by itself. */
async function join(field: string, dig: string, photo: Photo): Promise<void> {
  const draft = drafts.peek().get(field);
  if (draft?.id === dig) return put(addPhoto(draft, photo));
  const { spot, ...rest } = photo;
  const known = one('dig', dig)?.body.spots.some((s) => s.id === spot);
  const set = { ...rest, ...(spot && known ? { spot } : {}) };
  await keep([{ rec: newId(Date.now()), kind: 'photo', base: 0, set }]);
}

/** Lets go of a photo of the open dig, which nobody else has seen yet. */
export async function takeOut(field: string, sha256: string): Promise<void> {
  const draft = drafts.peek().get(field);
  if (!draft) return;
  put(dropPhoto(draft, sha256));
  await letPhotoGo(sha256);
}

/** Lets go of an open dig without plants, and of its photos. */
export async function letDigGo(draft: DigDraft): Promise<void> {
  dropDig(draft.field);
  for (const { sha256 } of draft.photos ?? []) await letPhotoGo(sha256);
}

export const photosOf = (dig: string) => all('photo').filter((p) => p.body.dig === dig);

/** The picture as kept here or at the server, as an address for an image; the caller revokes it. */
export async function pictureOf(photo: Photo): Promise<string | undefined> {
  const here = await photoStore()?.get(photo.sha256);
  if (here) return URL.createObjectURL(new Blob([here.bytes], { type: 'image/jpeg' }));
  const farm = open.value?.owner.farm;
  if (!farm || !photo.stored) return undefined;
  try {
    const blob = await withToken((access) => api.photo(farm, access, photo.sha256));
    return URL.createObjectURL(blob);
  } catch {
    return undefined;
  }
}

async function countPhotos(): Promise<void> {
  const photos = photoStore();
  const held = (await photos?.names())?.length ?? 0;
  const refused = (await photos?.refused()) ?? [];
  photosRefused.value = refused;
  photosHere.value = held - refused.length;
}

/** Lets a refused photo go from this device; its record and its small picture stay. */
export async function letPhotoGo(sha256: string): Promise<void> {
  await photoStore()?.drop(sha256);
  await countPhotos();
}

/** What the photo records of an account say of the bytes with some hash. */
export function saidBy(records: readonly Rec<'photo'>[], sha256: string): Said | undefined {
  const rec = records.find((p) => p.body.sha256 === sha256);
  if (!rec) return undefined;
  const { stored, takenAt } = rec.body;
  return { known: !rec.pending && rec.seq > 0, stored: !!stored, takenAt };
}

let running = false;

async function lane(): Promise<void> {
  const photos = photoStore();
  const farm = open.value?.owner.farm;
  if (!photos || !farm || running) return;
  running = true;
  try {
    await runLane({
      store: photos,
      said: (sha256) => saidBy(all('photo'), sha256),
      put: (sha, bytes) => withToken((access) => api.putPhoto(farm, access, sha, bytes)),
      pull: () => void syncNow(true),
      wait: (ms) => new Promise((done) => setTimeout(done, ms)),
      paused: (ms) => (photoPauseMS.value = ms),
      still: () => photoStore() === photos,
    });
  } catch {
    // Later: records go on, and the next round of theirs comes back here.
  } finally {
    running = false;
  }
  await countPhotos();
}

/** Sends photos whenever no record waits any more: records always go first. */
export function watchPhotos(): void {
  effect(() => {
    if (!open.value) return;
    const { waiting, lastAnswer } = tally.value;
    void (waiting === 0 && lastAnswer !== '' ? lane() : countPhotos());
  });
}
