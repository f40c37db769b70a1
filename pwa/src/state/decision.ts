// Decisions of the desk on a field's digs. Append-only: the one accepted last stands, and one that
// is still only on this device is newer than all.
import { seasonId } from '../id';
import type { Decision, Problem } from '../wire.gen';
import { judge, make } from './edit';
import { all, today, type Rec } from './records';
import { open } from './session';

export function decisionsOf(field: string, cropYear: number): Rec<'decision'>[] {
  const newest = (r: Rec<'decision'>) => (r.seq > 0 ? r.seq : Number.MAX_SAFE_INTEGER);
  return all('decision')
    .filter((d) => d.body.field === field && d.body.cropYear === cropYear)
    .sort((a, b) => newest(b) - newest(a) || b.id.localeCompare(a.id));
}

export const standing = (field: string, cropYear: number): Rec<'decision'> | undefined =>
  decisionsOf(field, cropYear)[0];

export type Said = Omit<Decision, 'date' | 'who'>;

/** Keeps a decision in the name of the person signed in, or gives the engine's word against it. */
export async function decide(said: Said): Promise<{ kept: boolean; problem?: Problem }> {
  const owner = open.value?.owner;
  if (!owner) return { kept: false };
  const { field, cropYear, rate, product } = said;
  if (rate) {
    const id = await seasonId(owner.farm, field, cropYear);
    const rescue = { rate, ...(product ? { product } : {}) };
    const problem = await judge(field, id, 'season', { rescue });
    if (problem) return { kept: false, problem };
  }
  const body: Decision = { ...said, date: today.value, who: owner.person.name };
  return { kept: (await make('decision', { ...body })) !== undefined };
}
