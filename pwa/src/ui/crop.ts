// The crops a person may choose from.
import { t } from '../state/words';
import { noCrop } from '../state/records';
import { CROPS } from '../wire.gen';
import { cropWords } from './headline';

/** What the engine can work out, then what may stand in a rotation beside it. */
export const crops: readonly string[] = [
  ...CROPS,
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
];

/** The crop as a choice has it: empty where nobody has said one. */
export const chosen = (crop: string | undefined): string => (crop === noCrop ? '' : (crop ?? ''));

/** Options with the record's own value in front where the list does not hold it. */
export function withOwn(
  value: string | undefined,
  list: readonly string[],
): (readonly [string, string])[] {
  const named = list.map((c) => [c, cropWords(c)] as const);
  const own = value && value !== noCrop && !list.includes(value) ? [[value, cropWords(value)] as const] : [];
  return [['', t('form.notSaid')], ...own, ...named];
}
