// Photos of a dig: the bytes kept apart, the records with the dig, the sending behind both.
import { effect, signal } from '@preact/signals';
import { PhotoStore, type Picture } from '../db/photo';
import { runLane, type Said } from '../sync/photo-lane';
import type { Photo } from '../wire.gen';
import { addPhoto, type DigDraft } from '../dig/draft';
import { put } from './dig';
import { draw } from './picture';
import { all, type Rec } from './records';
import { api, open, syncNow, tally, withToken } from './session';

export type Trouble = 'none' | 'space' | 'unreadable';

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

/** Keeps a photo of the spot in hand: its bytes at once, its record with the dig. */
export async function takePhoto(draft: DigDraft, file: Blob): Promise<Trouble> {
  const photos = photoStore();
  if (!photos || (await isShort())) return 'space';
  const drawn = await draw(file);
  if (!drawn) return 'unreadable';
  const { bytes, sha256, w, h, thumb } = drawn;
  const takenAt = new Date().toISOString();
  try {
    await photos.put({ sha256, bytes, takenAt, refused: '' });
  } catch {
    return 'space';
  }
  const spot = draft.spots.at(-1)?.id;
  const of = { field: draft.field, dig: draft.id, ...(spot ? { spot } : {}) };
  put(addPhoto(draft, { ...of, sha256, size: bytes.byteLength, w, h, thumb, takenAt }));
  await countPhotos();
  return 'none';
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
