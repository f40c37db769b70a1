// What the year's plans need, added up over fields: ground for each inoculant, starter nitrogen.
import type { Headline, Quantity } from '../wire.gen';
import { order } from './intl';
import { acresIn } from './unit';

/** One field's part in an order. */
export interface Need {
  crop: string;
  area: Quantity | undefined;
  headline: Headline | undefined;
}

/** Ground of one crop that one plan of inoculants is for. */
export interface Ground {
  crop: string;
  option: string;
  fields: number;
  /** Of the fields with an area. */
  acres: number;
  /** Fields of these whose area nobody has entered. */
  unsized: number;
}

/** Starter nitrogen that one decision of the starter rule asks for. */
export interface Starter {
  decision: 'apply' | 'optional';
  fields: number;
  acres: number;
  /** lb of N. */
  pounds: number;
  unsized: number;
}

/** lb of N that a field's starter is in all; undefined without an area or a rate. */
export function starterPounds({ area, headline }: Need): number | undefined {
  const rate = headline?.starterN;
  return area && rate !== undefined ? rate * acresIn(area) : undefined;
}

/** Ground by crop, as labels name the crops of an inoculant, and by plan; of a crop the largest first. */
export function grounds(needs: readonly Need[]): Ground[] {
  const sums = new Map<string, Ground>();
  for (const { crop, area, headline } of needs) {
    const option = headline?.option || 'unknown';
    const key = `${crop}/${option}`;
    const sum = sums.get(key) ?? { crop, option, fields: 0, acres: 0, unsized: 0 };
    sum.fields++;
    if (area) sum.acres += acresIn(area);
    else sum.unsized++;
    sums.set(key, sum);
  }
  return [...sums.values()].sort((a, b) => order(a.crop, b.crop) || b.acres - a.acres);
}

/** Starter nitrogen by what the rule decides; fields that need none or are not known are left out. */
export function starters(needs: readonly Need[]): Starter[] {
  return (['apply', 'optional'] as const).flatMap((decision) => {
    const sum: Starter = { decision, fields: 0, acres: 0, pounds: 0, unsized: 0 };
    for (const need of needs) {
      const { headline, area } = need;
      if (headline?.starterDecision !== decision || !headline.starterN) continue;
      sum.fields++;
      if (!area) sum.unsized++;
      else sum.acres += acresIn(area);
      sum.pounds += starterPounds(need) ?? 0;
    }
    return sum.fields > 0 ? [sum] : [];
  });
}
