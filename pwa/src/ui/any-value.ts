// Any value of a record in words, for the review list: what a form would have shown.
import { label } from '../state/problem';
import { hasKey, showDate, showNumber, showUnit, t } from '../state/words';
import { cropWords } from './headline';

type Bag = { readonly [name: string]: unknown };

const isBag = (v: unknown): v is Bag => typeof v === 'object' && v !== null && !Array.isArray(v);

/** Catalogues in which a word of a record may stand. */
const families = [
  'placement',
  'seedbed',
  'outlook',
  'zone',
  'texture',
  'history',
  'ppm',
  'form',
  'product',
  'keptState',
  'life',
];

function wordOf(name: string, text: string): string {
  if (/^\d{4}-\d{2}-\d{2}$/.test(text)) return showDate(text);
  if (name === 'crop') return cropWords(text);
  const key = families.map((f) => `${f}.${text}`).find(hasKey);
  return key && hasKey(key) ? t(key) : text;
}

/** "48 bu/ac", "side band", "0 in, 6 in, 12 ppm NO3-N; ...". */
export function valueWords(name: string, v: unknown): string {
  if (v === null || v === undefined || v === '') return t('form.notSaid');
  if (typeof v === 'boolean') return t(v ? 'form.yes' : 'form.no');
  if (typeof v === 'number') return name === 'cropYear' ? String(v) : showNumber(v, 3);
  if (typeof v === 'string') return wordOf(name, v);
  if (Array.isArray(v)) return v.map((x) => valueWords(name, x)).join('; ') || t('form.notSaid');
  if (!isBag(v)) return '';
  const { value, unit, basis } = v;
  if (typeof value === 'number' && typeof unit === 'string')
    return `${showNumber(value, 3)} ${showUnit(unit)}`;
  if (typeof value === 'number' && typeof basis === 'string')
    return `${showNumber(value, 3)} (${basis === 'water' ? t('soil.water') : 'CaCl₂'})`;
  if ('coordinates' in v) return t('fieldForm.hasOutline');
  return Object.entries(v)
    .map(([part, x]) => `${label(part)} ${valueWords(part, x)}`)
    .join(', ');
}
