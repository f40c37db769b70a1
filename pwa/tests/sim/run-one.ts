// One seed: some phones, a stretch of chaos, then calm, then the account is settled.
import { openDB } from 'idb';
import { farmDatabase } from '../../src/db/schema';
import { Chance } from './chance';
import * as check from './checks';
import type { Door } from './door';
import { Editor } from './editor';
import { Phone, type Role } from './phone';
import { photosSafe } from './photos';
import { day, longestMS, minute, patienceMS } from './sky';
import { cutHandle } from './store';
import { drive, turns } from './turns';
import { Violation, World } from './world';

export interface Outcome {
  seed: number;
  failure: Violation | undefined;
  operations: number;
  trace: string;
  /** What the server shows at the end, without anything that a clock said. */
  bodies: string;
  phones: number;
  rounds: number;
}

const mostRounds = 10;

class Run {
  readonly world: World;
  readonly editor: Editor;
  rounds = 0;
  private disks = 0;

  constructor(
    door: Door,
    readonly seed: number,
    readonly chance: Chance,
    readonly skews: Chance,
    planted: string,
    counts: Record<string, number>,
  ) {
    this.world = new World(door, chance, planted, counts);
    this.editor = new Editor(this.world.farm, chance);
  }

  async begin(): Promise<void> {
    const most = this.chance.oneIn(12) ? 20 : this.chance.oneIn(3) ? 7 : 4;
    const count = 2 + this.chance.below(most - 1);
    for (let i = 0; i < count; i++) {
      const role: Role = i === 0 ? 'owner' : this.chance.pick(['consultant', 'scout', 'owner']);
      await this.join(this.chance.uuid(), role);
    }
    await drive(this.first().keep([this.editor.settings(), this.editor.grower()]));
    // More than one answer can hold, for few enough phones that a run stays short.
    if (this.chance.oneIn(40) && count <= 3) {
      this.world.saw('big');
      const many = Array.from({ length: 1100 }, () => this.editor.grower());
      await drive(this.first().keep(many));
    }
  }

  private first(): Phone {
    const phone = this.world.phones[0];
    if (!phone) throw new Error('there is no phone');
    return phone;
  }

  private async join(person: string, role: Role): Promise<Phone> {
    const no = this.world.phones.length;
    const disk = `sim-${this.seed}-${no}-${this.disks++}-${this.world.farm}`;
    const phone = new Phone(this.world, no, person, role, disk, this.skews);
    if (no % 3 > 0) phone.jumpClock();
    this.world.phones.push(phone);
    await drive(phone.start());
    await drive(phone.signIn());
    return phone;
  }

  /** Lets time pass and brings what is due. */
  private async pass(ms: number, whole = false): Promise<void> {
    const until = this.world.sky.now + ms;
    for (let due = this.world.sky.next(until); due; due = this.world.sky.next(until)) {
      due.work();
      await turns(!whole && this.chance.oneIn(3) ? this.chance.below(12) : undefined);
    }
    this.world.sky.now = until;
  }

  async step(): Promise<void> {
    this.world.operations++;
    const long = this.chance.oneIn(14) ? 2 * day : 12 * minute;
    await this.pass(this.chance.below(long));
    const phone = this.chance.pick(this.world.phones);
    if (phone.up) await this.act(phone);
    else if (this.chance.oneIn(2)) await this.wake(phone);
    await turns(this.chance.oneIn(3) ? this.chance.below(25) : undefined);
    if (this.world.failure) throw this.world.failure;
  }

  private async wake(phone: Phone): Promise<void> {
    await drive(phone.start());
    if (phone.up) await check.kept(this.world, phone);
  }

  private act(phone: Phone): Promise<void> | void {
    const { chance, world } = this;
    const at = chance.below(100);
    if (phone.phase.at === 'signIn' && chance.oneIn(2)) return this.signIn(phone);
    if (at < 38) return this.edit(phone);
    if (at < 68) return phone.sync(chance.oneIn(2));
    if (at < 71) return this.kill(phone);
    if (at < 76) return phone.arm(chance.pick(['before', 'inside', 'after']));
    if (at < 78) return this.update(phone);
    if (at < 79) return this.photo(phone);
    if (at < 80) return this.late();
    if (at < 83) return this.look(phone);
    if (at < 86) return this.cutHandle(phone);
    if (at < 88) return this.fill(phone);
    if (at < 91) return this.draft(phone);
    if (at < 93) return this.jump(phone);
    if (at < 94) return this.photo(phone);
    if (at < 96) return world.copy();
    if (at < 97) return chance.oneIn(2) ? world.restore() : world.freshen();
    if (at < 98) return chance.oneIn(2) ? this.clone(phone) : undefined;
    if (at === 99) return world.tidy();
    if (chance.oneIn(3)) return world.takeUp();
    if (chance.oneIn(6) && phone.no > 0) return world.revoke(phone);
  }

  private async signIn(phone: Phone): Promise<void> {
    if (phone.revoked) return;
    phone.noRoom = 0;
    await drive(phone.signIn());
    this.world.saw('signIn');
  }

  private async edit(phone: Phone): Promise<void> {
    const view = await drive(phone.store.view());
    if (!view || !phone.up) return;
    const many = this.chance.oneIn(5) ? 3 : 1;
    const list = Array.from({ length: many }, () => this.editor.act(view, phone.role === 'scout'));
    const edits = list.filter((edit) => edit !== undefined);
    if (edits.length === 0) return;
    // Two screens can keep at the same moment, and so can two tabs.
    const tab = this.chance.oneIn(8);
    if (tab) this.world.saw('otherTab');
    for (const edit of edits) {
      if (!phone.up) return;
      const store = tab ? phone.another() : phone.store;
      this.background(phone.keep([edit], undefined, store));
    }
  }

  private background(work: Promise<void>): void {
    work.catch((error: unknown) => this.world.fail('keep answers', String(error)));
  }

  private async kill(phone: Phone): Promise<void> {
    if (this.chance.oneIn(2)) phone.sync(true);
    await turns(this.chance.below(30));
    if (phone.up) phone.die();
    this.world.saw('die.now');
  }

  /** A new version of the app takes over, with whatever is unsent. */
  private async update(phone: Phone): Promise<void> {
    phone.die();
    await turns();
    this.world.saw('update');
    await this.wake(phone);
  }

  /** A new phone comes into an account that has something in it. */
  private async late(): Promise<void> {
    if (this.world.phones.length > 20 || !this.chance.oneIn(2)) return;
    const role: Role = this.chance.pick(['consultant', 'scout']);
    await this.join(this.chance.uuid(), role);
    this.world.saw('late');
  }

  private async photo(phone: Phone): Promise<void> {
    const view = await drive(phone.store.view());
    if (!view || !phone.up) return;
    await phone.photos.take([...view.values()].filter((seen) => seen.kind === 'field'));
  }

  private async look(phone: Phone): Promise<void> {
    await turns();
    if (phone.up) await check.kept(this.world, phone);
    if (phone.up) await check.cut(this.world, phone);
    if (phone.up) await photosSafe(this.world, phone, false);
  }

  private async cutHandle(phone: Phone): Promise<void> {
    this.world.saw('handleCut');
    const opened = await cutHandle(phone.store);
    if (!opened && phone.up) throw new Violation('the disk opens', `phone ${phone.no}`);
  }

  private fill(phone: Phone): void {
    phone.noRoom = 1 + this.chance.below(3);
  }

  private jump(phone: Phone): void {
    this.world.saw('clockJump');
    phone.jumpClock();
  }

  private async draft(phone: Phone): Promise<void> {
    const [open] = phone.drafts;
    if (open) {
      this.background(phone.keep([open[1]], open[0]));
      return this.world.saw('draft.closed');
    }
    const view = await drive(phone.store.view());
    const edit = this.editor.dig([...(view?.values() ?? [])].filter((s) => s.kind === 'field'));
    if (!edit || !phone.up) return;
    const { store } = phone;
    await drive(store.putDraft(edit.rec, edit).catch(() => undefined));
    if (phone.up && (await drive(store.draft(edit.rec)))) phone.drafts.set(edit.rec, edit);
  }

  /** A phone is set up from a copy of another one's disk. */
  private async clone(phone: Phone): Promise<void> {
    await turns();
    if (!phone.up) return;
    const copy = new Phone(
      this.world,
      this.world.phones.length,
      phone.person,
      phone.role,
      `${phone.disk}-copy-${this.disks++}`,
      this.skews,
    );
    await drive(copyDisk(phone.disk, copy.disk));
    copy.device = phone.device;
    copy.ids = [...phone.ids];
    copy.revoked = phone.revoked; // it goes by the id that was shut out
    copy.kept.push(...phone.kept.filter((k) => k.promised));
    for (const [key, edit] of phone.drafts) copy.drafts.set(key, edit);
    this.world.phones.push(copy);
    this.world.saw('clone');
    this.world.note(`${copy.no} is a copy of ${phone.no}`);
    await drive(copy.start());
  }

  /** All try in vain once more, and while they wait to try again their clocks are set. */
  private async tunnel(): Promise<void> {
    const { phones, sky } = this.world;
    this.world.saw('tunnel');
    await this.pass(longestMS, true); // so that nobody waits for an answer when it begins
    sky.dark = true;
    for (const phone of phones) if (phone.up) phone.sync(true);
    await turns();
    await this.pass(patienceMS + 500, true); // the first wait after a failure is longer
    sky.dark = false;
    for (const phone of phones) if (phone.no % 3 > 0) phone.jumpClock();
  }

  /** The weather clears: everything must come together within some rounds. */
  async calm(): Promise<Phone[]> {
    if (this.chance.oneIn(2)) await this.tunnel();
    this.world.sky.calm = true;
    for (const phone of this.world.phones) {
      phone.armed = undefined;
      phone.noRoom = 0;
    }
    await this.pass(12 * day, true);
    const phones = this.world.phones.filter((p) => !p.revoked);
    for (this.rounds = 1; this.rounds <= mostRounds; this.rounds++) {
      for (const phone of this.world.phones) await this.round(phone);
      this.world.takeUp();
      this.world.freshen();
      if (this.world.failure) throw this.world.failure;
      if (await this.all(phones)) return phones;
    }
    const words = phones.map((p) => `${p.no} ${JSON.stringify(p.phase)}`).join(', ');
    throw new Violation('liveness', `not together after ${mostRounds} rounds: ${words}`);
  }

  private async all(phones: Phone[]): Promise<boolean> {
    for (const phone of phones) if (!(await check.settled(this.world, phone))) return false;
    for (const p of this.world.phones) if (!(await check.handedIn(this.world, p))) return false;
    return true;
  }

  private async round(phone: Phone): Promise<void> {
    this.world.operations++;
    if (!phone.up) await this.wake(phone);
    if (phone.phase.at === 'signIn' && !phone.revoked) await drive(phone.signIn());
    phone.sync(false);
    await turns();
    for (let i = 0; phone.running && i < 100; i++) await this.pass(5000, true);
    await this.pass(60 * minute, true);
  }

  async end(phones: Phone[]): Promise<string> {
    for (const phone of this.world.phones) if (phone.up) await check.kept(this.world, phone);
    await check.converged(this.world, phones);
    const { state } = this.world.ask({ op: 'state' });
    if (!state) throw new Error('the server has no state');
    check.stored(this.world, state, this.world.phones);
    check.refilled(this.world, state);
    check.refused(state, this.editor.wrong);
    await check.told(state, phones);
    for (const phone of phones) await photosSafe(this.world, phone, true);
    const { wrote } = this.world.ask({ op: 'recompute' });
    if (wrote > 0) throw new Violation('results are current', `${wrote} had to be made again`);
    return JSON.stringify(Object.entries(state.bodies).sort());
  }

  async over(): Promise<void> {
    for (const phone of this.world.phones) if (phone.up) phone.die();
    await turns();
    for (const { disk } of this.world.phones) {
      indexedDB.deleteDatabase(farmDatabase(disk, 'person'));
      indexedDB.deleteDatabase(`hilum-photo-${disk}-person`);
    }
    await turns();
  }
}

async function copyDisk(from: string, to: string): Promise<void> {
  const old = await openDB(farmDatabase(from, 'person'));
  const names = [...old.objectStoreNames];
  const copy = await openDB(farmDatabase(to, 'person'), 1, {
    upgrade: (db) => {
      const tx = old.transaction(names);
      for (const name of names) {
        const { keyPath } = tx.objectStore(name);
        db.createObjectStore(name, keyPath === null ? {} : { keyPath });
      }
    },
  });
  for (const name of names) {
    const [keys, values] = [await old.getAllKeys(name), await old.getAll(name)];
    const inline = old.transaction(name).store.keyPath !== null;
    for (const [i, value] of values.entries())
      await (inline ? copy.put(name, value) : copy.put(name, value, keys[i]));
  }
  old.close();
  copy.close();
}

export interface Options {
  planted?: string;
  /** Another salt gives the phones' clocks other skews and changes nothing else. */
  skew?: number;
  steps?: number;
}

export async function runSeed(
  door: Door,
  seed: number,
  counts: Record<string, number>,
  options: Options = {},
): Promise<Outcome> {
  const chance = new Chance(seed);
  const skews = new Chance(seed * 31 + (options.skew ?? 1));
  const run = new Run(door, seed, chance, skews, options.planted ?? '', counts);
  let failure: Violation | undefined;
  let bodies = '';
  try {
    await run.begin();
    const steps = options.steps ?? 50 + chance.below(100);
    for (let i = 0; i < steps; i++) await run.step();
    bodies = await run.end(await run.calm());
  } catch (error) {
    failure = error instanceof Violation ? error : new Violation('no crash', String(stack(error)));
  }
  await run.over().catch(() => undefined);
  const { operations, phones } = run.world;
  const trace = run.world.traceHash();
  const count = phones.length;
  return { seed, failure, operations, trace, bodies, phones: count, rounds: run.rounds };
}

const stack = (error: unknown): unknown => (error instanceof Error ? error.stack : error);
