// Corrections of closed digs: new records that stand beside what they put right.
import { newId } from '../id';
import type { Correction, Plant } from '../wire.gen';
import { keep } from './keep';
import { all, one } from './records';

export const correctionsOf = (dig: string) => all('correction').filter((c) => c.body.dig === dig);

export type Said = { drop: true } | { right: Plant };

/** Says what is right of one plant, or with plant undefined that a whole dig does not count. */
export async function correct(
  dig: string,
  plant: string | undefined,
  said: Said,
  why: string,
): Promise<boolean> {
  const field = one('dig', dig)?.body.field;
  if (!field) return false;
  const of = plant === undefined ? {} : { plant };
  const body: Correction = { dig, field, ...of, ...said, why };
  return keep([{ rec: newId(Date.now()), kind: 'correction', base: 0, set: { ...body } }]);
}

/** Where a plant stands in its dig, counted from 1 as people count. */
export function placeOf(dig: string, plant: string): { spot: number; plant: number } | undefined {
  const spots = one('dig', dig)?.body.spots ?? [];
  for (const [i, spot] of spots.entries()) {
    const at = spot.plants.findIndex((p) => p.id === plant);
    if (at >= 0) return { spot: i + 1, plant: at + 1 };
  }
  return undefined;
}
