// The day's walk in the accounts that are not open: worked out by the same engine from their own
// records, each on its own clock, so that one list shows where a person has to go.
import { effect, signal } from '@preact/signals';
import { orderOf, stopOf, type CaseRecord } from '../engine/bridge';
import { CROPS, type Stop, type Turn } from '../wire.gen';
import { beside, type Beside } from './beside';
import { momentOf, ticking } from './clock';
import { deviceDay, planYearOn, type Bodies, type Rec } from './records';

/** One field of another account, with all that its line says. */
export interface BesideTurn {
  of: Beside;
  turn: Turn;
  name: string;
  crop: string;
  grower: string;
  /** The person who is to walk it; "" = open. */
  walker: string;
}

/** A field of another account that the engine could not work out: named, never left out in silence. */
export interface BesideFailed {
  of: Beside;
  field: string;
  name: string;
}

export const besideTurns = signal<readonly BesideTurn[]>([]);
export const besideFailed = signal<readonly BesideFailed[]>([]);

/** One field to walk, in the open account or in another one of this device. */
export interface Item {
  turn: Turn;
  beside?: BesideTurn;
}

export const isBeside = {
  mine: (b: BesideTurn) => b.walker === b.of.known.person,
  open: (b: BesideTurn) => b.walker === '',
  all: () => true,
};

/** The engine's groups, the most urgent first. */
const dues = ['closing', 'open', 'past', 'coming', 'unknown', 'later', 'none'];

/** All accounts in one list: by the engine's groups, and within one the open account first. */
export function oneList(own: readonly Turn[], others: readonly BesideTurn[]): Item[] {
  const list: Item[] = own.map((turn) => ({ turn }));
  list.push(...others.map((beside) => ({ turn: beside.turn, beside })));
  const rank = ({ turn }: Item) => dues.indexOf(turn.due);
  return others.length === 0 ? list : list.sort((a, b) => rank(a) - rank(b));
}

const ownKinds = new Set(['season', 'soilTest', 'dig', 'correction', 'pass']);

/** What the engine needs, by the same rules as for the open account. */
class Records {
  constructor(readonly of: Beside) {}

  all<K extends keyof Bodies>(kind: K): Rec<K>[] {
    const seen = [...this.of.view.values()].filter((s) => s.kind === kind);
    return seen as unknown as Rec<K>[];
  }

  one<K extends keyof Bodies>(kind: K, id: string): Rec<K> | undefined {
    return this.all(kind).find((r) => r.id === id);
  }

  get settings() {
    return this.all('settings')[0]?.body;
  }

  get year(): number {
    return planYearOn(this.settings?.today ?? deviceDay.value);
  }

  caseOf(field: string): CaseRecord[] {
    const rows = [...this.of.view.values()].filter(
      (s) =>
        s.kind === 'settings' ||
        s.id === field ||
        (ownKinds.has(s.kind) && (s.body as { field?: string }).field === field),
    );
    return rows.map(({ id, kind, seq, body }) => (seq > 0 ? { id, kind, seq, body } : { id, kind, body }));
  }

  /** Fields in use with a crop of this year that the engine knows. */
  get walked(): { field: Rec<'field'>; crop: string; grower: string }[] {
    const { year } = this;
    const crops = new Map(
      this.all('season').flatMap((s) => (s.body.cropYear === year ? [[s.body.field, s.body.crop]] : [])),
    );
    const growers = new Map(this.all('grower').map((g) => [g.id, g.body]));
    return this.all('field').flatMap((field) => {
      const crop = crops.get(field.id) ?? '';
      const grower = growers.get(field.body.grower);
      if (field.body.archived || grower?.archived) return [];
      return (CROPS as readonly string[]).includes(crop) ? [{ field, crop, grower: grower?.name ?? '' }] : [];
    });
  }

  walkerOf(field: string): string {
    const found = this.all('assignment').find(
      (a) => a.body.field === field && a.body.cropYear === this.year,
    );
    return found?.body.person ?? '';
  }
}

const stops = new Map<string, { asked: string; stop: Stop | undefined }>();

async function stopIn(records: Records, field: Rec<'field'>): Promise<Stop | undefined> {
  const own = records.caseOf(field.id);
  const asked = JSON.stringify([records.year, own.map((r) => [r.id, 'seq' in r ? r.seq : r.body])]);
  const known = stops.get(field.id);
  if (known?.asked === asked) return known.stop;
  const stop = await stopOf(own, field.id, records.year).catch(() => undefined);
  stops.set(field.id, { asked, stop });
  return stop;
}

interface Worked {
  turns: BesideTurn[];
  failed: BesideFailed[];
}

async function workedOut(of: Beside): Promise<Worked> {
  const records = new Records(of);
  const { walked } = records;
  const found: Stop[] = [];
  const failed: BesideFailed[] = [];
  for (const { field } of walked) {
    const stop = await stopIn(records, field);
    if (stop) found.push(stop);
    else failed.push({ of, field: field.id, name: field.body.name });
  }
  return { turns: found.length > 0 ? await inOrder(records, found) : [], failed };
}

async function inOrder(records: Records, found: Stop[]): Promise<BesideTurn[]> {
  const { of, walked } = records;
  const passes = records.all('pass').map(({ id, kind, body }) => ({ id, kind, body }));
  const order = await orderOf({ now: momentOf(records.settings), stops: found }, passes);
  return order.turns.flatMap((turn) => {
    const row = walked.find((w) => w.field.id === turn.field);
    if (!row) return [];
    const { field, crop, grower } = row;
    return [{ of, turn, name: field.body.name, crop, grower, walker: records.walkerOf(field.id) }];
  });
}

let running: Promise<void> = Promise.resolve();

/** Keeps the list while a screen shows it; gives what ends it. */
export function watchBesideTurns(): () => void {
  let last = {};
  return effect(() => {
    const [list, mine] = [beside.value, (last = {})];
    ticking(); // re-entry times pass while the screen is open
    running = running.then(async () => {
      if (mine !== last) return;
      const found = await Promise.all(list.map(workedOut)).catch(() => undefined);
      if (!found || mine !== last) return;
      besideTurns.value = found.flatMap(({ turns }) => turns);
      besideFailed.value = found.flatMap(({ failed }) => failed);
    });
  });
}
