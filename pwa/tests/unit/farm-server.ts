// A farm server in memory, small enough to be obviously right: it takes each (device, n) once,
// numbers changes without gaps and answers with what is new. It can be told to misbehave.
import type { Ack, Mutation, Row, SyncRequest, SyncResponse } from '../../src/wire.gen';

export class FarmServer {
  epoch = 'epoch-1';
  head = 0;
  readonly rows = new Map<string, Row>();
  readonly taken = new Map<string, { text: string; ack: Ack }>();
  readonly lastN = new Map<string, number>();
  readonly refuse = new Set<string>();
  mostRows = 1000;
  requests = 0;

  answer(text: string): SyncResponse {
    this.requests++;
    const req = JSON.parse(text) as SyncRequest;
    const old = req.epoch !== '' && req.epoch !== this.epoch;
    if (old) return { ...this.empty(req), reset: true };
    const acks: Ack[] = [];
    let expect: number | undefined;
    for (const m of req.push as Mutation[]) {
      const last = this.lastN.get(req.device) ?? 0;
      if (m.n > last + 1) {
        expect = last + 1;
        break;
      }
      acks.push(this.take(req.device, m));
    }
    const fresh = [...this.rows.values()].filter((r) => r.seq > req.cursor);
    const sorted = fresh.sort((a, b) => a.seq - b.seq);
    const rows = sorted.slice(0, this.mostRows);
    const more = rows.length < sorted.length;
    const cursor = more ? (rows.at(-1)?.seq ?? req.cursor) : this.head;
    return { ...this.empty(req), acks, rows, cursor, more, ...(expect ? { expect } : {}) };
  }

  private empty(req: SyncRequest): SyncResponse {
    const { epoch, head } = this;
    return {
      epoch,
      head,
      cursor: req.cursor,
      serverTime: '2027-06-14T12:00:00Z',
      acks: [],
      rows: [],
    };
  }

  private take(device: string, m: Mutation): Ack {
    const key = `${device}/${m.n}`;
    const text = JSON.stringify(m);
    const before = this.taken.get(key);
    if (before) return before.text === text ? before.ack : { n: m.n, outcome: 'cloned' };
    const ack = this.refuse.has(m.rec) ? this.quarantine(m) : this.apply(m);
    this.taken.set(key, { text, ack });
    this.lastN.set(device, m.n);
    return ack;
  }

  private quarantine(m: Mutation): Ack {
    const problem = {
      code: 'range',
      field: 'area.value',
      message: 'is -1, accepted 0.01 to 100000',
    };
    return { n: m.n, outcome: 'quarantined', problem };
  }

  private apply(m: Mutation): Ack {
    const body = { ...(this.rows.get(m.rec)?.body as object | undefined) } as {
      [k: string]: unknown;
    };
    for (const [field, value] of Object.entries(m.set ?? {})) {
      if (value === null) delete body[field];
      else body[field] = value;
    }
    const seq = ++this.head;
    this.rows.set(m.rec, { id: m.rec, kind: m.kind, seq, deleted: !!m.del, body });
    return { n: m.n, outcome: 'applied', seq };
  }

  /** As somebody else's device would. */
  write(rec: string, kind: string, set: { [k: string]: unknown }): void {
    this.apply({ n: 0, schema: 1, rec, kind, base: 0, set, phoneTime: '' });
  }

  /** Comes back from a backup made before anything was taken. */
  restoreEmpty(): void {
    this.epoch = `${this.epoch}-restored`;
    this.head = 0;
    for (const map of [this.rows, this.taken, this.lastN]) map.clear();
  }
}
