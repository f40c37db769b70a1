// The crops a person may choose from.
import { t } from '../state/words';
import { cropWords } from './headline';

export const crops = [
  'pea',
  'lentil',
  'chickpea',
  'faba',
  'soybean',
  'dryBean',
  'wheat',
  'durum',
  'barley',
  'oat',
  'rye',
  'canola',
  'mustard',
  'flax',
  'forage',
  'fallow',
] as const;

/** Options with the record's own value in front where the list does not hold it. */
export function withOwn(
  value: string | undefined,
  list: readonly string[],
): (readonly [string, string])[] {
  const named = list.map((c) => [c, cropWords(c)] as const);
  const own = value && !list.includes(value) ? [[value, value] as const] : [];
  return [['', t('form.notSaid')], ...own, ...named];
}
