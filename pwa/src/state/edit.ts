// Edits at the desk. An edit is judged before it is kept, by the engine and by what the server alone
// looks at (state/bound): what was kept and then refused would be work done twice.
import { newId, seasonId, settingsId } from '../id';
import type { CaseRecord } from '../engine/bridge';
import { CROPS, type Problem, type Season, type Settings } from '../wire.gen';
import { beyond } from './bound';
import { keep, keeping } from './keep';
import { caseOf, noCrop, planYear, rows, view } from './records';
import { compute, type ReportState } from './report';
import { open } from './session';

export type Values = Readonly<Record<string, unknown>>;

/** Some values to set, or how they follow from what stands there now. */
export type Change<T> = Values | ((now: Partial<T>) => Values);

const problemIn = (state: ReportState): Problem | undefined =>
  state.at === 'none' && state.problem.field ? state.problem : undefined;

const same = (a: Problem | undefined, b: Problem | undefined): boolean =>
  a?.field === b?.field && a?.message === b?.message;

/** The records of a field with one of them changed; null takes a value away. */
function changed(field: string, id: string, kind: string, set: Values) {
  const records = caseOf(field).filter((r) => r.id !== id);
  const body: Record<string, unknown> = { ...view.value.get(id)?.body };
  for (const [name, value] of Object.entries(set)) {
    if (value === null || value === undefined) delete body[name];
    else body[name] = value;
  }
  return [...records, { id, kind, body }];
}

/** A crop that the engine knows: it looks at nothing of a field without one. The server does the same. */
const anyCrop = 'pea';

/**
 * The records with a field, and a season whose crop the engine knows, where these are missing: ranges
 * are the same under canola, and where nobody has said yet what will grow.
 */
function judgeable(records: readonly CaseRecord[], field: string, year: number): CaseRecord[] {
  const isYear = ({ kind, body }: CaseRecord) => {
    const { cropYear, part } = body as Season;
    return kind === 'season' && cropYear === year && (!part || part === 'whole');
  };
  const season = records.find(isYear)?.body as Season | undefined;
  const crop = CROPS.find((c) => c === season?.crop) ?? anyCrop;
  const added: CaseRecord[] = [
    { id: 'season', kind: 'season', body: { ...season, field, cropYear: year, crop } },
  ];
  if (!records.some((r) => r.kind === 'field'))
    added.push({ id: field, kind: 'field', body: { grower: '', name: '' } });
  return [...records.filter((r) => !isYear(r)), ...added];
}

const judged = async (records: readonly CaseRecord[], field: string, year: number) =>
  problemIn(await compute(judgeable(records, field, year), field, year));

/** What there is against an edit, in the crop years it counts for; undefined = nothing. */
export async function judge(
  field: string,
  id: string,
  kind: string,
  set: Values,
): Promise<Problem | undefined> {
  const wrong = beyond(kind, set);
  if (wrong) return wrong;
  const own = kind === 'season' ? (set['cropYear'] ?? view.value.get(id)?.body['cropYear']) : undefined;
  for (const year of new Set([planYear.value, Number(own ?? planYear.value)])) {
    const after = await judged(changed(field, id, kind, set), field, year);
    if (!after) continue;
    const before = await judged(caseOf(field), field, year);
    if (!same(before, after)) return after;
  }
  return undefined;
}

const orNull = (set: Values): Record<string, unknown> =>
  Object.fromEntries(Object.entries(set).map(([name, value]) => [name, value ?? null]));

let before: Promise<unknown> = Promise.resolve();
let looking = 0;
const stay = (event: Event) => event.preventDefault();

/**
 * One edit after the other, each on what the one before has left. As long as one is looked at, the
 * browser asks before it lets the page go.
 */
async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (looking++ === 0) addEventListener('beforeunload', stay);
  const mine = before.then(work);
  before = mine.catch(() => undefined);
  try {
    return await mine;
  } finally {
    if (--looking === 0) removeEventListener('beforeunload', stay);
  }
}

/** Keeps an edit of a record; gives the problem instead when the engine refuses the values. */
export function edit<T = Values>(
  kind: string,
  id: string,
  change: Change<T>,
  field?: string,
): Promise<Problem | undefined> {
  keeping.value++; // while the engine looks at it, nothing on the screen may be called kept
  return inTurn(() => put(kind, id, change, field)).finally(() => keeping.value--);
}

async function put<T>(
  kind: string,
  id: string,
  change: Change<T>,
  field: string | undefined,
): Promise<Problem | undefined> {
  const now = (view.value.get(id)?.body ?? {}) as Partial<T>;
  const set = typeof change === 'function' ? change(now) : change;
  const problem = await (field ? judge(field, id, kind, set) : beyond(kind, set));
  if (problem) return problem;
  await keep([{ rec: id, kind, base: view.value.get(id)?.seq ?? 0, set: orNull(set) }]);
  return undefined;
}

/** Edits the account. The engine judges money and rules as part of a field, whichever it is. */
export async function editSettings(change: Change<Settings>): Promise<Problem | undefined> {
  const farm = open.value?.owner.farm;
  if (!farm) return undefined;
  return edit('settings', await settingsId(farm), change, rows.value[0]?.field.id ?? farm);
}

/** Edits one crop year of a field, which is made by its first edit. */
export async function editSeason(
  field: string,
  cropYear: number,
  change: Change<Season>,
): Promise<Problem | undefined> {
  const farm = open.value?.owner.farm;
  if (!farm) return undefined;
  const id = await seasonId(farm, field, cropYear);
  const whole = (now: Partial<Season>) => {
    const made = now.crop === undefined ? { field, cropYear, crop: noCrop } : {};
    return { ...made, ...(typeof change === 'function' ? change(now) : change) };
  };
  return edit<Season>('season', id, whole, field);
}

/** Makes a new record and gives its id. */
export async function make(kind: string, set: Values): Promise<string | undefined> {
  const id = newId(Date.now());
  const kept = await keep([{ rec: id, kind, base: 0, set: orNull(set) }]);
  return kept ? id : undefined;
}
