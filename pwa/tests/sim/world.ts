// What is around the phones: the server behind a network with weather, its earlier copies, and the
// account of what has been stored.
import { createHash } from 'node:crypto';
import { Unreachable } from '../../src/net/api';
import type { Ack, SyncResponse } from '../../src/wire.gen';
import { Chance } from './chance';
import type { Door, Logged, Reply } from './door';
import { keyOf, type Phone } from './phone';
import { day, minute, patienceMS, Sky, type Fate } from './sky';

export class Violation extends Error {
  constructor(
    readonly invariant: string,
    detail: string,
  ) {
    super(`${invariant}: ${detail}`);
  }
}

/** Copies older than this are not restored: phones keep what was answered for 30 days. */
const oldestCopyMS = 18 * day;

const busy = [500, 502, 503, 429, 408] as const;

const serverPlants = /^server\./;

export class World {
  readonly farm: string;
  readonly sky: Sky;
  readonly phones: Phone[] = [];
  readonly counts: Record<string, number>;
  /** Stored mutations by device and number, and how often each content is stored. */
  readonly log = new Map<string, Logged>();
  readonly keys = new Map<string, number>();
  readonly cloneKeys = new Set<string>();
  /** Entries that were once taken into a record, by device, number and content. */
  readonly accepted = new Set<string>();
  /** Photos whose bytes the server has had. */
  readonly photosStored = new Set<string>();
  private restored = false;
  failure: Violation | undefined;
  epoch: string;
  operations = 0;
  private enrolled = new Set<string>();
  private readonly copies: { at: number; copy: number; enrolled: Set<string> }[] = [];
  private readonly trace = createHash('sha256');

  constructor(
    readonly door: Door,
    readonly chance: Chance,
    readonly planted: string,
    counts: Record<string, number>,
  ) {
    this.counts = counts;
    this.farm = chance.uuid();
    this.epoch = chance.uuid();
    this.sky = new Sky(chance);
    this.ask({ op: 'farm', farm: this.farm, epoch: this.epoch });
  }

  saw(what: string): void {
    this.counts[what] = (this.counts[what] ?? 0) + 1;
    this.note(what);
  }

  note(what: string): void {
    if (process.env['SIM_LOG']) console.log(new Date(this.sky.now).toISOString(), what);
    this.trace.update(`${this.sky.now} ${what}\n`);
  }

  traceHash(): string {
    return this.trace.digest('hex').slice(0, 16);
  }

  fail(invariant: string, detail: string): void {
    this.failure ??= new Violation(invariant, detail);
  }

  ask(request: Record<string, unknown>): Reply {
    const planted = serverPlants.test(this.planted) ? this.planted.slice(7) : '';
    const now = Math.floor(this.sky.now / 1000);
    return this.door({ ...request, farm: this.farm, now, planted });
  }

  enrol(device: string): void {
    this.enrolled.add(device);
    this.ask({ op: 'device', device });
  }

  knows = (device: string): boolean => this.enrolled.has(device);

  /** The refresh of a token; false = a person has to sign in. */
  async refresh(phone: Phone): Promise<boolean> {
    if (phone.token !== undefined) return true;
    if (!this.sky.calm && this.chance.oneIn(7)) throw new Unreachable();
    if (!this.knows(phone.device)) return false;
    phone.shutOut = phone.revoked; // then it gets a ticket instead
    phone.token = phone.device;
    return true;
  }

  /** Brings a request to the server and its answer back, if the weather lets it. */
  post(phone: Phone, url: string, body: string): Promise<Response> {
    const fate = this.sky.fate();
    this.saw(`net.${fate}`);
    const life = phone.life;
    const from = phone.token ?? '';
    return new Promise((resolve, reject) => {
      const back = (ms: number, status: number, text: string) =>
        this.sky.later(ms, () => {
          if (phone.life !== life) return;
          if (status === 401) phone.token = undefined;
          if (status === 0) return reject(new TypeError('no signal'));
          this.delivered(phone, from, status, text);
          resolve(httpAnswer(status, text));
        });
      this.route(fate, () => this.serve(phone, url, from, body, fate), back);
    });
  }

  private route(
    fate: Fate,
    serve: () => [number, string],
    back: (ms: number, status: number, text: string) => void,
  ): void {
    const up = this.sky.delay(fate);
    const fault = (code: string) => JSON.stringify({ error: { code, message: code } });
    const through = (change: (text: string) => string) => () => {
      const [status, text] = serve();
      back(this.sky.delay('fine'), status, change(text));
    };
    if (fate === 'requestLost') return back(patienceMS, 0, '');
    if (fate === 'busy') return back(up, this.chance.pick(busy), fault('busy'));
    if (fate === 'tokenOver') return back(up, 401, fault('unauthorized'));
    if (fate === 'late' || fate === 'replyLost') {
      if (fate === 'late') back(patienceMS, 0, '');
      return this.sky.later(up, () => {
        serve();
        if (fate === 'replyLost') back(patienceMS, 0, '');
      });
    }
    const part = this.chance.part();
    const cut = (text: string) => text.slice(0, Math.floor(text.length * part));
    this.sky.later(up, through(fate === 'cut' ? cut : (text) => text));
    const again = up + this.chance.below(5 * 24 * 60) * minute;
    if (fate === 'twice') this.sky.later(again, () => void serve());
  }

  /** The server's edge: who is it, then the door. Status 0 = it died. */
  private serve(
    phone: Phone,
    url: string,
    device: string,
    body: string,
    fate: Fate,
  ): [number, string] {
    const op = url.endsWith('/hand-in') ? 'handIn' : 'sync';
    if (!this.knows(device) || phone.revoked !== (op === 'handIn'))
      return [401, '{"error":{"code":"unauthorized","message":"sign in first"}}'];
    const crash = fate === 'crash' ? 1 + this.chance.below(4) : 0;
    const { person, role } = phone;
    const busy = this.chance.oneIn(4);
    const r = this.ask({ op, person, device, role, body, crash, busy });
    this.store(r.committed ?? []);
    if (r.status === 0) this.saw(crash % 2 === 1 ? 'crash.before' : 'crash.after');
    if (r.answer) this.seen(r.answer);
    if (op === 'handIn') this.saw(`handIn.${r.status}`);
    const text = JSON.stringify(r.answer ?? { error: r.problem });
    this.note(`${phone.no} ${device} sent ${body}`);
    this.note(`${phone.no} ${r.status} ${text}`);
    return [r.status, text];
  }

  private seen(answer: SyncResponse): void {
    for (const ack of answer.acks) this.saw(`outcome.${ack.outcome}`);
    for (const { outcome } of answer.judged ?? []) this.saw(`judged.${outcome}`);
    if (answer.stale) this.saw('answer.stale');
    if (answer.reset) this.saw('answer.reset');
    if (answer.more) this.saw('answer.more');
    if (answer.expect !== undefined) this.saw('answer.expect');
  }

  private store(list: readonly Logged[]): void {
    for (const m of list) {
      if (m.repeat) {
        this.log.set(`${m.device}/${m.n}`, m);
        this.saw('repeat');
        continue;
      }
      const key = keyOf(m.raw);
      if (m.clone) {
        this.cloneKeys.add(key);
        continue;
      }
      if (m.outcome !== 'quarantined') this.accepted.add(`${m.device}/${m.n} ${key}`);
      this.log.set(`${m.device}/${m.n}`, m);
      this.keys.set(key, (this.keys.get(key) ?? 0) + 1);
    }
  }

  /** An answer reached its phone: what it acknowledges must be stored. */
  private delivered(phone: Phone, device: string, status: number, text: string): void {
    if (status !== 200) return;
    let answer: SyncResponse;
    try {
      answer = JSON.parse(text) as SyncResponse;
    } catch {
      return; // cut off; the phone sees that too
    }
    if (answer.epoch !== this.epoch) return;
    const lost = answer.acks.find((a: Ack) => {
      return a.outcome !== 'cloned' && !this.log.has(`${device}/${a.n}`);
    });
    if (lost) this.fail('acked is stored', `${device}/${lost.n} ${lost.outcome}`);
    // Half of those that must take a new device id die around the write of it, which is the second.
    if (this.sky.calm || !answer.acks.some((a) => a.outcome === 'cloned')) return;
    if (this.chance.oneIn(2)) phone.arm(this.chance.pick(['before', 'inside', 'after']), 1);
  }

  copy(): void {
    const { copy } = this.ask({ op: 'copy' });
    this.copies.push({ at: this.sky.now, copy, enrolled: new Set(this.enrolled) });
    this.saw('copy');
  }

  /** The server comes back from an earlier copy. */
  restore(): void {
    const fit = this.copies.filter((c) => this.sky.now - c.at < oldestCopyMS);
    if (fit.length === 0) return;
    const chosen = this.chance.pick(fit);
    const epoch = this.chance.uuid();
    const r = this.ask({ op: 'restore', copy: chosen.copy, epoch });
    if (this.planted !== 'server.epochKept') this.epoch = epoch;
    this.enrolled = new Set(chosen.enrolled);
    this.copies.splice(this.copies.indexOf(chosen) + 1);
    this.log.clear();
    this.keys.clear();
    this.store(r.committed ?? []);
    this.restored = true;
    this.saw('restore');
  }

  /** The server lets go of tombstones that every device has passed. */
  tidy(): void {
    const before = this.ask({ op: 'rows' }).floor;
    this.ask({ op: 'tidy' });
    this.saw(this.ask({ op: 'rows' }).floor > before ? 'floor.raised' : 'floor.same');
  }

  /** A quiet moment: the server computes what it put off. */
  freshen(): void {
    this.ask({ op: 'freshen' });
  }

  /** A photo's bytes come; records come before photos. */
  photo(hash: string, crash: number): number {
    const { status } = this.ask({ op: 'photo', hash, crash });
    this.saw(`photo.${status}`);
    if (status === 204 || crash === 2) this.photosStored.add(hash);
    if (status === 404 && !this.restored) this.fail('records before photos', hash);
    return status;
  }

  /** The owner takes up what shut-out devices handed in. */
  takeUp(): void {
    for (const device of new Set(this.phones.filter((p) => p.revoked).map((p) => p.device))) {
      const { judged } = this.ask({ op: 'takeUp', device });
      for (const { outcome } of judged ?? []) this.saw(`takeUp.${outcome}`);
    }
  }

  revoke(phone: Phone): void {
    // A copy that still goes by the same id is shut out with it.
    for (const p of this.phones) if (p.device === phone.device) p.revoked = true;
    this.ask({ op: 'revoke', device: phone.device });
    this.saw('revoke');
  }
}

function httpAnswer(status: number, text: string): Response {
  const answer = {
    ok: status === 200,
    status,
    headers: { get: () => null },
    json: async () => JSON.parse(text) as unknown,
  };
  return answer as unknown as Response;
}
