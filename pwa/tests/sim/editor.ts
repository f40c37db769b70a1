// What people do on a phone: new records, edits of what they see, deletions, reviews, mistakes.
import { createHash } from 'node:crypto';
import type { Edit } from '../../src/db/farm';
import type { Seen } from '../../src/db/overlay';
import type { ConflictValue } from '../../src/wire.gen';
import type { Chance } from './chance';
import { keyOf } from './phone';

/** The id of a thing that may exist once, as id.ts makes it, without waiting for a thread. */
export function onceId(farm: string, kind: string, key: string): string {
  const space = Buffer.from(farm.replaceAll('-', ''), 'hex');
  const sum = createHash('sha1').update(space).update(`${kind}:${key}`).digest().subarray(0, 16);
  sum[6] = ((sum[6] ?? 0) & 0x0f) | 0x50;
  sum[8] = ((sum[8] ?? 0) & 0x3f) | 0x80;
  const h = sum.toString('hex');
  return [h.slice(0, 8), h.slice(8, 12), h.slice(12, 16), h.slice(16, 20), h.slice(20)].join('-');
}

type View = Map<string, Seen>;

export class Editor {
  /** What it made that the server can only refuse. */
  readonly wrong = new Set<string>();
  private token = 100;

  constructor(
    private readonly farm: string,
    private readonly chance: Chance,
  ) {}

  settings(): Edit {
    const set = { name: this.word(), timeZone: 'America/Regina', currency: 'CAD' };
    const rules = { units: 'imperial', starterRule: 'published', nodeCount: 'withScale' };
    const rec = onceId(this.farm, 'settings', '');
    return { rec, kind: 'settings', base: 0, set: { ...set, ...rules } };
  }

  /** A value that nobody else ever sets. */
  private word = (): string => `(${this.token++})`;
  private hours = (): Record<string, unknown> => ({ reEntryHours: this.token++ / 100 });
  private area = (): unknown => ({ unit: 'ac', value: this.token++ / 100 });

  /** One thing that a person does with what is on the screen; undefined = nothing to do it with. */
  act(view: View, scout: boolean): Edit | undefined {
    const of = (kind: string) => [...view.values()].filter((s) => s.kind === kind);
    // A scout who gets at a planner's screen is refused by the server.
    if (scout && this.chance.oneIn(20)) return this.decision(of('dig'));
    if (scout && this.chance.oneIn(8)) return this.pass(of('field'));
    if (scout && this.chance.oneIn(8)) return this.correction(of('dig'));
    if (scout && !this.chance.oneIn(20)) return this.dig(of('field'));
    switch (this.chance.below(20)) {
      case 0:
        return this.grower();
      case 1:
      case 2:
        return this.field(of('grower'));
      case 3:
        return this.season(of('field'));
      case 4:
        return this.soilTest(of('field'));
      case 5:
        return this.dig(of('field'));
      case 6:
        return this.remove([
          ...of('grower'),
          ...of('field'),
          ...of('dig'),
          ...of('pass'),
          ...of('soilTest'),
        ]);
      case 7:
        return this.settle(of('conflict'));
      case 8:
        return this.poison(of('field'));
      case 9:
        if (!this.chance.oneIn(4)) return undefined;
        return { ...this.settings(), base: baseOf(of('settings')) };
      case 10:
        return this.pass(of('field'));
      case 11:
        return this.assignment(of('field'));
      case 12:
        return this.decision(of('dig'));
      case 13:
        return this.correction(of('dig'));
      default:
        return this.change([
          ...of('field'),
          ...of('field'),
          ...of('grower'),
          ...of('season'),
          ...of('pass'),
        ]);
    }
  }

  grower(): Edit {
    const set = { name: this.word(), note: this.word() };
    return { rec: this.chance.uuid(), kind: 'grower', base: 0, set };
  }

  private field(growers: Seen[]): Edit | undefined {
    if (growers.length === 0) return undefined;
    const grower = this.chance.pick(growers).id;
    const set = { grower, name: this.word(), area: this.area(), soilZone: 'brown' };
    return { rec: this.chance.uuid(), kind: 'field', base: 0, set };
  }

  private season(fields: Seen[]): Edit | undefined {
    if (fields.length === 0) return undefined;
    const field = this.chance.pick(fields).id;
    const cropYear = 2026 + this.chance.below(2);
    const rec = onceId(this.farm, 'season', `${field}/${cropYear}/whole`);
    const set = { field, cropYear, crop: 'pea', note: this.word(), status: 'planned' };
    return { rec, kind: 'season', base: 0, set };
  }

  private soilTest(fields: Seen[]): Edit | undefined {
    if (fields.length === 0) return undefined;
    const depth = (value: number) => ({ value, unit: 'in' });
    const nitrate = { value: 10 + this.chance.below(20), unit: 'lb/ac' };
    const layers = [{ top: depth(0), bottom: depth(12), nitrate }];
    const field = this.chance.pick(fields).id;
    const set = { field, sampled: '2026-10-20', layers, note: this.word() };
    return { rec: this.chance.uuid(), kind: 'soilTest', base: 0, set };
  }

  dig(fields: Seen[]): Edit | undefined {
    if (fields.length === 0) return undefined;
    const plant = () => ({
      id: this.chance.uuid(),
      vigour: 'vigorous',
      nodules: 'over5',
      inside: 'pink',
      position: 'mostlyCrown',
    });
    const spots = [{ id: this.chance.uuid(), plants: [plant(), plant()] }];
    const field = this.chance.pick(fields).id;
    const set = { field, cropYear: 2027, date: '2027-06-14', spots, note: this.word() };
    return { rec: this.chance.uuid(), kind: 'dig', base: 0, set };
  }

  private pass(fields: Seen[]): Edit | undefined {
    if (fields.length === 0) return undefined;
    const field = this.chance.pick(fields).id;
    const date = `2027-06-${10 + this.chance.below(10)}`;
    const set = { field, cropYear: 2027, what: 'herbicide', product: this.word(), date };
    const hours = this.chance.oneIn(2) ? this.hours() : {};
    return { rec: this.chance.uuid(), kind: 'pass', base: 0, set: { ...set, ...hours } };
  }

  private assignment(fields: Seen[]): Edit | undefined {
    if (fields.length === 0) return undefined;
    const field = this.chance.pick(fields).id;
    const rec = onceId(this.farm, 'assignment', `${field}/2027`);
    const person = this.chance.oneIn(2) ? this.chance.uuid() : '';
    const set = { field, cropYear: 2027, person, note: this.word() };
    return { rec, kind: 'assignment', base: 0, set };
  }

  /** What the desk made of a dig; it never changes. */
  private decision(digs: Seen[]): Edit | undefined {
    if (digs.length === 0) return undefined;
    const { id, body } = this.chance.pick(digs);
    const { field, cropYear } = body;
    const told = { reason: this.word(), who: this.word(), date: '2027-06-20' };
    const rate = { unit: 'lb/ac', value: 30 };
    const apply = { choice: 'apply', rate, product: 'urea', byDay: '2027-06-25' };
    const choice = this.chance.oneIn(3) ? apply : { choice: 'confirmed' };
    const set = { field, cropYear, digs: [id], ...told, ...choice };
    return { rec: this.chance.uuid(), kind: 'decision', base: 0, set };
  }

  private correction(digs: Seen[]): Edit | undefined {
    if (digs.length === 0) return undefined;
    const { id, body } = this.chance.pick(digs);
    const date = `2027-06-${10 + this.chance.below(20)}`;
    const set = { dig: id, field: body['field'], date, why: this.word() };
    return { rec: this.chance.uuid(), kind: 'correction', base: 0, set };
  }

  private remove(list: Seen[]): Edit | undefined {
    if (list.length === 0 || !this.chance.oneIn(2)) return undefined;
    const { id, kind, seq } = this.chance.pick(list);
    return { rec: id, kind, base: seq, del: true };
  }

  private settle(conflicts: Seen[]): Edit | undefined {
    if (conflicts.length === 0) return undefined;
    const { id, seq, body } = this.chance.pick(conflicts);
    const values = body['values'] as ConflictValue[];
    const take = this.chance.pick(values).seq;
    const set = { record: body['record'], name: body['name'], take };
    return { rec: id, kind: 'settle', base: seq, set };
  }

  /** Something that the server can only set aside. */
  private poison(fields: Seen[]): Edit {
    const rec = this.chance.uuid();
    const known = fields.length > 0 ? this.chance.pick(fields) : undefined;
    const wrong: Edit[] = [
      { rec, kind: 'grower', base: 0, set: { name: '', note: this.word() } },
      { rec, kind: 'nothing', base: 0, set: { name: this.word() } },
      { rec: 'no id', kind: 'grower', base: 0, set: { name: this.word() } },
      { rec, kind: 'field', base: 0, set: { grower: rec, name: this.word() } },
      { rec, kind: 'grower', base: 0 },
      { rec: known?.id ?? rec, kind: 'field', base: 0, set: { area: { value: -1, unit: 'ac' } } },
    ];
    const chosen = this.chance.pick(wrong);
    this.wrong.add(keyOf(JSON.stringify(chosen)));
    return chosen;
  }

  private change(list: Seen[]): Edit | undefined {
    if (list.length === 0) return undefined;
    const { id, kind, seq, body } = this.chance.pick(list);
    return { rec: id, kind, base: seq, set: this.changed(kind, body) };
  }

  private changed(kind: string, body: Seen['body']): Record<string, unknown> {
    const what = this.chance.below(5);
    if (kind === 'season') {
      if (what === 0) return { status: this.chance.pick(['planned', 'started', 'done']) };
      if (what === 1) return { seeded: `${body['cropYear']}-05-${10 + this.chance.below(20)}` };
      return { note: this.word() };
    }
    if (kind === 'pass') {
      if (what < 2) return this.hours();
      return { note: this.word() };
    }
    if (kind === 'field' && what < 2) return { area: this.area() };
    if (what === 2) return { note: this.word() };
    if (what === 3) return { laterThing: this.word(), name: this.word() };
    return { name: this.word() };
  }
}

const baseOf = (list: Seen[]): number => list[0]?.seq ?? 0;
