// The photos of a phone: the shipped store and lane, and the way of the bytes to the server.
import { PhotoStore } from '../../src/db/photo';
import type { Edit } from '../../src/db/farm';
import type { Seen } from '../../src/db/overlay';
import { runLane, type Said } from '../../src/sync/photo-lane';
import type { Phone } from './phone';
import { patienceMS, type Fate } from './sky';
import { drive, never } from './turns';
import { Violation, type World } from './world';

const silent: readonly Fate[] = ['requestLost', 'late'];

/** The fates in which the server gets it and the phone does not hear of that. */
const unheard: readonly Fate[] = ['replyLost', 'cut'];

export class Photos {
  /** Hashes of what was taken and is kept. */
  readonly taken = new Set<string>();
  private store: PhotoStore;
  private life = 0;
  private running = false;

  constructor(private readonly phone: Phone) {
    this.store = new PhotoStore(phone.disk, 'person');
  }

  /** Only the disk is left; what runs belongs to the former life. */
  revive(): void {
    void this.store.close();
    this.store = new PhotoStore(this.phone.disk, 'person');
    this.running = false;
    this.life = this.phone.life;
  }

  /** A person takes one: the bytes are on the disk before its record is kept. */
  async take(fields: Seen[]): Promise<void> {
    if (fields.length === 0) return;
    const { phone } = this;
    const { chance } = phone.world;
    const sha256 = `${chance.uuid()}${chance.uuid()}`.replaceAll('-', '');
    const field = chance.pick(fields).id;
    const takenAt = new Date(phone.world.sky.now).toISOString();
    const set = { field, sha256, size: 3, w: 40, h: 30, takenAt, note: `(photo ${sha256})` };
    const edit: Edit = { rec: chance.uuid(), kind: 'photo', base: 0, set };
    await drive(this.store.put({ sha256, bytes: new ArrayBuffer(3), takenAt, refused: '' }));
    if (!phone.up) return;
    this.taken.add(sha256);
    phone.world.saw('photo');
    await drive(phone.keep([edit]));
  }

  names = (): Promise<string[] | undefined> => drive(this.store.names());

  /** Runs the lane as the screens' state does after each change. */
  async run(): Promise<void> {
    const { phone, life } = this;
    if (this.running || phone.revoked || this.taken.size === 0) return;
    this.running = true;
    const alive = () => this.life === life && phone.up;
    try {
      const said = saidBy(await phone.store.view(), phone.world.planted);
      await runLane({
        store: this.store,
        said,
        put: (sha, bytes) => (alive() ? phone.put(sha, bytes) : never()),
        pull: () => (alive() ? phone.sync(false) : undefined),
        wait: () => never(),
        paused: () => undefined,
        still: alive,
      });
    } catch {
      // As in the product: later.
    } finally {
      if (this.life === life) this.running = false;
    }
  }

  async drop(sha: string): Promise<void> {
    await this.store.drop(sha);
  }
}

/** What the records say, as state/photo.ts reads it. */
export function saidBy(view: ReadonlyMap<string, Seen>, planted = ''): (sha: string) => Said {
  const all = [...view.values()].filter((seen) => seen.kind === 'photo');
  return (sha) => {
    const seen = all.find(({ body }) => body['sha256'] === sha);
    const known = !!seen && !seen.pending && seen.seq > 0;
    const takenAt = String(seen?.body['takenAt'] ?? '');
    return { known: known || planted === 'photosFirst', stored: !!seen?.body['stored'], takenAt };
  };
}

/** Brings a photo's bytes to the server. */
export function putOver(world: World, phone: Phone, hash: string): Promise<Response> {
  const { sky, chance } = world;
  const fate = sky.fate();
  const { life } = phone;
  const later = (ms: number, work: () => void) =>
    sky.later(ms, () => (phone.life === life ? work() : undefined));
  return new Promise((resolve, reject) => {
    const lost = () => reject(new TypeError('no signal'));
    if (silent.includes(fate)) return later(patienceMS, lost);
    const crash = fate === 'crash' ? 1 + chance.below(2) : 0;
    sky.later(sky.delay(fate), () => {
      const known = fate !== 'tokenOver' && world.knows(phone.device) && !phone.revoked;
      const status = !known ? 401 : fate === 'busy' ? 503 : world.photo(hash, crash);
      later(sky.delay('fine'), () => {
        if (status === 401) phone.token = undefined;
        if (status === 0 || unheard.includes(fate)) return lost();
        resolve(bare(status));
      });
    });
  });
}

const bare = (status: number): Response => {
  const json = () => Promise.reject(new Error('no body'));
  const made = { ok: status < 300, status, headers: { get: () => null }, json };
  return made as unknown as Response;
};

/** Bytes leave a phone only when the server has them, and all that can go have gone in the end. */
export async function photosSafe(world: World, phone: Phone, atTheEnd: boolean): Promise<void> {
  const held = await phone.photos.names();
  const view = await drive(phone.store.view());
  if (!held || !view || !phone.up) return;
  for (const sha of phone.photos.taken)
    if (!held.includes(sha) && !world.photosStored.has(sha))
      throw new Violation('photos are kept', `phone ${phone.no}: ${sha}`);
  const said = saidBy(view);
  const left = held.find((sha) => said(sha).known);
  if (atTheEnd && left) throw new Violation('photos do not starve', `phone ${phone.no}: ${left}`);
}
