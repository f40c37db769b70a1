// One phone: the shipped store, loop and request code, with a disk, a clock of its own, a body that
// can die at any moment, and a person.
import type { Edit, FarmStore } from '../../src/db/farm';
import { Api } from '../../src/net/api';
import { Loop, type Phase } from '../../src/sync/loop';
import { Chance } from './chance';
import { loadOver } from './load';
import { Photos, putOver } from './photos';
import { packedAccount } from '../../src/sync/snapshot';
import { abort, openStore, type Body, type Point, type Tx } from './store';
import { plantLoop, plantSend, plantStore } from './planted';
import { never } from './turns';
import type { World } from './world';

export type Role = 'owner' | 'consultant' | 'scout';

/** What a person was told is kept, or may be if the phone died in between. */
export interface Kept {
  key: string;
  edit: Edit;
  promised: boolean;
}

export class Phone implements Body {
  life = 0;
  up = false;
  revoked = false;
  /** It has learnt that it is shut out, and hands in by a ticket. */
  shutOut = false;
  /** Device id as the registry of this phone has it, in a database of its own. */
  device: string;
  /** All ids it had, in their order. */
  ids: string[] = [];
  /** The device that the token in memory speaks for. */
  token: string | undefined;
  phase: Phase = { at: 'idle' };
  skewMS = 0;
  armed: Point | undefined;
  countdown = 0;
  noRoom = 0;
  running = false;
  readonly busy = new Set<Tx>();
  readonly kept: Kept[] = [];
  readonly drafts = new Map<string, Edit>();
  private current: { store: FarmStore; loop: Loop } | undefined;
  private api = this.makeApi();
  readonly photos: Photos;

  constructor(
    readonly world: World,
    readonly no: number,
    readonly person: string,
    readonly role: Role,
    readonly disk: string,
    readonly skews: Chance,
  ) {
    this.device = world.chance.uuid();
    this.ids.push(this.device);
    this.photos = new Photos(this);
  }

  private makeApi(): Api {
    return new Api((url, init) => {
      const headers = (init.headers ?? {}) as Record<string, string>;
      const photo = /\/photos\/(\w+)$/.exec(url)?.[1];
      if (photo !== undefined) return putOver(this.world, this, photo);
      if (url.endsWith('/snapshot')) return loadOver(this.world, this, headers);
      return this.world.post(this, url, String(init.body));
    });
  }

  get store(): FarmStore {
    if (!this.current) throw new Error('the phone is off');
    return this.current.store;
  }

  clock(): number {
    return this.world.sky.now + this.skewMS;
  }

  iso(): string {
    return new Date(this.clock()).toISOString();
  }

  arm(point: Point, after = this.world.chance.below(4)): void {
    this.armed = point;
    this.countdown = after;
  }

  dies(point: Point): boolean {
    if (this.armed !== point || this.countdown-- > 0) return false;
    this.world.saw(`die.${point}`);
    this.die();
    return true;
  }

  full(): boolean {
    return this.noRoom > 0 && this.noRoom-- > 0;
  }

  /** Nothing but the disk is left. */
  die(): void {
    this.life++;
    this.up = this.running = false;
    this.armed = undefined;
    for (const tx of this.busy) abort(tx);
    this.busy.clear();
    this.close();
  }

  private close(): void {
    const store = this.current?.store;
    this.current?.loop.stop();
    this.current = undefined;
    void store?.close();
  }

  another(): FarmStore {
    return plantStore(openStore(this.disk, this), this);
  }

  /** Starts the app as the session code does: open, look which device this is, start the loop. */
  async start(): Promise<void> {
    const store = this.another();
    const life = this.life;
    const state = await store.state();
    if (this.life !== life) return;
    if (state.device !== '' && this.world.planted !== 'registryStale') this.goBy(state.device);
    this.token = undefined;
    this.shutOut = false;
    this.photos.revive();
    this.api = this.makeApi(); // what a broken load had brought is gone
    this.current = { store, loop: this.makeLoop(store) };
    this.up = true;
  }

  private goBy(device: string): void {
    if (this.device !== device) this.ids.push(device);
    this.device = device;
  }

  /** A person signs in, which makes the device known to the server. */
  async signIn(): Promise<void> {
    this.world.enrol(this.device);
    const person = { id: this.person, name: 'Somebody', role: this.role };
    const owner = { farm: this.world.farm, accountName: 'An account', person };
    await this.store.settle(owner, this.device);
    this.token = this.device;
  }

  private makeLoop(store: FarmStore): Loop {
    const life = this.life;
    const alive = () => this.life === life;
    const send = (text: string) => {
      const token = this.token ?? '';
      return this.shutOut ? this.api.handIn(token, text) : this.api.sync(this.world.farm, token, text);
    };
    return new Loop({
      ports: {
        store,
        send: plantSend(this, store, (text) => (alive() ? send(text) : never())),
        now: () => this.iso(),
        newDevice: () => this.world.chance.uuid(),
        snapshot: async () =>
          this.shutOut ? undefined : packedAccount(() => this.firstLoad(alive())),
      },
      lock: (work) => work(),
      ready: () => (alive() ? this.world.refresh(this) : never()),
      clockMS: plantLoop(this, () => this.world.sky.now),
      random: () => this.world.chance.part(),
      later: (ms, work) => this.world.sky.later(ms, () => (alive() ? work() : undefined)),
      tell: (phase) => void (alive() && (this.phase = phase)),
      changed: async () => {
        if (alive()) void this.photos.run();
      },
      deviceChanged: async (device) => {
        if (!alive()) return never();
        this.world.saw('newDevice');
        this.token = undefined;
        this.goBy(device);
      },
    });
  }

  put(sha: string, bytes: ArrayBuffer): Promise<void> {
    const sent = this.api.putPhoto(this.world.farm, this.token ?? '', sha, bytes);
    if (this.world.planted !== 'photoForgotten') return sent;
    return sent.finally(() => this.photos.drop(sha));
  }

  private firstLoad(alive: boolean): Promise<string> {
    return alive ? this.api.snapshot(this.world.farm, this.token ?? '') : never();
  }

  /** Runs the loop in the background; the world gives out the turns. */
  sync(byHand: boolean): void {
    const life = this.life;
    this.running = true;
    void this.current?.loop.run(byHand).finally(() => {
      if (this.life === life) this.running = false;
    });
  }

  /** Keeps edits as a screen does; whether they are promised shows in kept. */
  keep(edits: Edit[], dropDraft?: string, store = this.store): Promise<void> {
    const made = edits.map((edit) => ({ key: keyOf(JSON.stringify(edit)), edit, promised: false }));
    this.kept.push(...made);
    const life = this.life;
    return store.keep(edits, this.iso(), dropDraft).then(
      () => {
        if (this.life !== life) return;
        for (const k of made) k.promised = true;
        if (dropDraft !== undefined) this.drafts.delete(dropDraft);
      },
      (error: unknown) => {
        const name = error instanceof Error ? error.name : '';
        if (this.life === life) this.world.saw(`keep.${name}`);
        if (this.life === life && name !== 'QuotaExceededError') throw error;
      },
    );
  }

  jumpClock(): void {
    const days = this.skews.below(801) - 400;
    this.skewMS = days * 24 * 3600_000 + this.skews.below(86_400_000);
  }
}

/** What makes a mutation the same one under another number. */
export function keyOf(raw: string): string {
  const end = raw.lastIndexOf(',"phoneTime"');
  return raw.slice(raw.indexOf('"rec"'), end < 0 ? raw.length - 1 : end);
}
