// What this device knows, as signals that every screen reads.
import { computed, signal } from '@preact/signals';
import { localDay } from '../day';
import type { Seen } from '../db/overlay';
import { order, plain, sortKey } from './intl';
import type {
  Assignment,
  Conflict,
  Correction,
  Decision,
  Dig,
  Field,
  Grower,
  Pass,
  Photo,
  Result,
  Season,
  Settings,
  SoilTest,
} from '../wire.gen';

export interface Bodies {
  settings: Settings;
  grower: Grower;
  field: Field;
  season: Season;
  soilTest: SoilTest;
  dig: Dig;
  result: Result;
  conflict: Conflict;
  correction: Correction;
  decision: Decision;
  photo: Photo;
  pass: Pass;
  assignment: Assignment;
}

export interface Rec<K extends keyof Bodies> {
  id: string;
  kind: K;
  seq: number;
  pending: boolean;
  body: Bodies[K];
}

export const view = signal<ReadonlyMap<string, Seen>>(new Map());

const grouped = computed(() => {
  const groups = new Map<string, Seen[]>();
  for (const seen of view.value.values()) {
    const group = groups.get(seen.kind);
    if (group) group.push(seen);
    else groups.set(seen.kind, [seen]);
  }
  return groups;
});

/** All records of one kind. The shape is the server's word: it checks every body it takes. */
export function all<K extends keyof Bodies>(kind: K): Rec<K>[] {
  return (grouped.value.get(kind) ?? []) as unknown as Rec<K>[];
}

export function one<K extends keyof Bodies>(kind: K, id: string): Rec<K> | undefined {
  const seen = view.value.get(id);
  return seen?.kind === kind ? (seen as unknown as Rec<K>) : undefined;
}

export const settings = computed(() => all('settings')[0]?.body);

/** The day by this device's clock, refreshed when the page comes back to view. */
export const deviceDay = signal(localDay(new Date()));

/** The day that every screen uses: the account's fixed one (demo accounts), else the device's. */
export const today = computed(() => settings.value?.today ?? deviceDay.value);

/** From 1 August on, plans are for the crop of the next year. Crop year = year of harvest. */
export function planYearOn(day: string): number {
  const [year, month] = day.split('-').map(Number);
  return (year ?? 0) + ((month ?? 1) >= 8 ? 1 : 0);
}

export const planYear = computed(() => planYearOn(today.value));

/** From the first seeding of the running year on there is something to walk. */
export const inSeason = computed(() =>
  all('season').some((s) => s.body.cropYear === planYear.value && (s.body.seeded ?? '9') <= today.value),
);

export interface FieldRow {
  field: Rec<'field'>;
  grower: Rec<'grower'> | undefined;
  season: Rec<'season'> | undefined;
  test: Rec<'soilTest'> | undefined;
  lastDig: Rec<'dig'> | undefined;
  result: Rec<'result'> | undefined;
}

type OfField =
  'season' | 'soilTest' | 'dig' | 'result' | 'correction' | 'pass' | 'assignment';

const byField = <K extends OfField>(kind: K) =>
  computed(() => {
    const map = new Map<string, Rec<K>[]>();
    for (const rec of all(kind)) {
      const list = map.get(rec.body.field);
      if (list) list.push(rec);
      else map.set(rec.body.field, [rec]);
    }
    return map as ReadonlyMap<string, Rec<K>[]>;
  });

export const seasons = byField('season');
export const tests = byField('soilTest');
export const digs = byField('dig');
export const results = byField('result');
export const corrections = byField('correction');
export const passes = byField('pass');
export const assignments = byField('assignment');

/** The crop year a soil test serves: as said, else from 1 August on the next, as at the server. */
export function serves(test: SoilTest): number {
  if (test.cropYear) return test.cropYear;
  const [year, month] = test.sampled.split('-').map(Number);
  return (year ?? 0) + ((month ?? 1) >= 8 ? 1 : 0);
}

const newest = <T>(list: readonly T[] | undefined, date: (t: T) => string): T | undefined =>
  [...(list ?? [])].sort((a, b) => order(date(b), date(a)))[0];

export function rowOf(field: Rec<'field'>, year: number): FieldRow {
  const ofYear = <T extends { body: { cropYear: number } }>(list: T[] | undefined) =>
    list?.find((r) => r.body.cropYear === year);
  const { id } = field;
  return {
    field,
    grower: one('grower', field.body.grower),
    season: ofYear(seasons.value.get(id)),
    test: newest(
      tests.value.get(id)?.filter((s) => serves(s.body) === year),
      (s) => s.body.sampled,
    ),
    lastDig: newest(
      digs.value.get(id)?.filter((d) => d.body.cropYear === year),
      (d) => d.body.date + d.id,
    ),
    result: ofYear(results.value.get(id)),
  };
}

/** A crop year that was begun with another value, before anybody said what grows. */
export const noCrop = 'other';

/** What grows on the field this year, where somebody has said so. */
export function cropOf({ season }: FieldRow): string | undefined {
  const crop = season?.body.crop;
  return crop === noCrop ? undefined : crop;
}

/** Whether a field, or the grower whose it is, was put away: it is in no list, only found. */
export const isAway = (row: FieldRow): boolean =>
  !!row.field.body.archived || !!row.grower?.body.archived;

/** All fields by grower and name, those put away among them. */
const everyRow = computed<FieldRow[]>(() => {
  const list = all('field').map((f) => rowOf(f, planYear.value));
  const name = (r: FieldRow) => `${r.grower?.body.name ?? ''}\u0000${r.field.body.name}`;
  const keyed = list.map((row) => ({ row, key: sortKey(name(row)) }));
  return keyed.sort((a, b) => order(a.key, b.key)).map(({ row }) => row);
});

/** Fields in use, by grower and name. */
export const rows = computed<FieldRow[]>(() => everyRow.value.filter((row) => !isAway(row)));

function matches(row: FieldRow, words: readonly string[]): boolean {
  const text = plain([row.field.body.name, row.grower?.body.name, row.season?.body.crop].join(' '));
  return words.every((word) => text.includes(word));
}

/** The fields in use, or all that have the words of a search. */
export function find(query: string): FieldRow[] {
  if (query.trim() === '') return rows.value;
  const words = plain(query).split(/\s+/);
  return everyRow.value.filter((row) => matches(row, words));
}

/** One record as the engine takes it; seq orders corrections, and one without is the newest. */
interface CaseRow {
  id: string;
  kind: string;
  seq?: number;
  body: unknown;
}

/** What the engine is given for a field: its own records and the account's settings. */
export function caseOf(field: string): CaseRow[] {
  const own = [
    ...all('settings'),
    one('field', field),
    ...(seasons.value.get(field) ?? []),
    ...(tests.value.get(field) ?? []),
    ...(digs.value.get(field) ?? []),
    ...(corrections.value.get(field) ?? []),
    ...(passes.value.get(field) ?? []),
  ];
  const row = ({ id, kind, seq, body }: Rec<keyof Bodies>): CaseRow =>
    seq > 0 ? { id, kind, seq, body } : { id, kind, body };
  return own.flatMap((r) => (r ? [row(r)] : []));
}
