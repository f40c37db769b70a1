// What the screens have called kept, and whether a disk still has it.
import assert from 'node:assert/strict';

const tapsOf = ({ spots, plant }) =>
  4 * spots.reduce((sum, s) => sum + s.plants.length, 0) +
  ['vigour', 'nodules', 'inside'].filter((part) => plant[part] !== undefined).length;

export const plantsOf = (dig) => dig.spots.reduce((sum, s) => sum + s.plants.length, 0);

/** What the screens of all rounds so far have promised. */
export class Promised {
  constructor({ mayRefuse = false } = {}) {
    Object.assign(this, { mayRefuse });
    Object.assign(this, { closed: new Map(), open: new Map(), closing: undefined, last: undefined });
    const names = ['rounds', 'promises', 'closed', 'midWrite', 'keptAnyway', 'offline', 'refused'];
    this.figures = Object.fromEntries(names.map((name) => [name, 0]));
  }

  hear(word) {
    if (word.did === 'finish') this.counted = word.plants;
    if (word.did === 'done') this.closing = { plants: this.counted };
    if (!word.shown) return;
    const { path, kept, plants, step, refused } = word.shown;
    assert.ok(!refused || this.mayRefuse, 'the screen says that an entry was not kept');
    if (refused && !this.last?.refused) this.figures.refused++;
    if (/emptied/.test(refused)) this.emptied = true;
    this.last = word.shown;
    const [, , field, part, dig] = path.split('/');
    if (part === 'dug' && this.closing && !this.closed.has(dig)) {
      this.closed.set(dig, this.closing.plants);
      this.open.delete(field);
      this.closing = undefined;
      this.figures.closed++;
    }
    if (part !== 'dig' || !kept || step < 0) return;
    this.open.set(field, 4 * plants + step);
    this.figures.promises++;
  }

  /** Compares with the disk after the kill; then the disk is what is promised. */
  check(disk) {
    const digs = new Map();
    const rows = disk.base.filter((r) => r.kind === 'dig').map((r) => [r.id, r.body]);
    for (const m of [...disk.sent, ...disk.waiting]) if (m.kind === 'dig') rows.push([m.rec, m.set]);
    for (const [id, body] of rows) digs.set(id, body);
    for (const [id, plants] of this.closed) {
      const dig = digs.get(id);
      assert.ok(dig, `the closed dig ${id} is gone`);
      if (plants !== undefined) assert.equal(plantsOf(dig), plants, `plants of dig ${id}`);
    }
    for (const [field, taps] of this.open) this.checkOpen(disk, digs, field, taps);
    // A close that the screen had not shown yet may have come to the disk all the same.
    for (const m of [...disk.sent, ...disk.waiting])
      if (m.kind === 'dig' && !this.closed.has(m.rec)) this.closed.set(m.rec, plantsOf(m.set));
    this.open = new Map(disk.drafts.map((d) => [d.field, tapsOf(d)]));
    this.closing = undefined;
  }

  checkOpen(disk, digs, field, taps) {
    const draft = disk.drafts.find((d) => d.field === field);
    if (draft) {
      assert.ok(tapsOf(draft) >= taps, `of ${taps} taps shown as kept there are ${tapsOf(draft)}`);
      if (tapsOf(draft) > taps) this.figures.keptAnyway++;
      return;
    }
    // Closed in the meantime, and maybe after more taps than the screen had called kept.
    const whole = this.closing?.plants ?? Math.floor(taps / 4);
    const as = [...digs].find(([id, d]) => {
      return !this.closed.has(id) && d.field === field && plantsOf(d) >= whole;
    });
    assert.ok(as, `the open dig in ${field} with ${taps} taps is gone`);
  }
}
