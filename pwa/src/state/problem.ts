// The engine's and the server's objections in the person's language. Their sentences are few and
// follow patterns; one that follows none is shown as it came.
import type { Problem } from '../wire.gen';
import { hasKey, locale, showUnit, t, within, type Key } from './words';

interface Pattern {
  shape: RegExp;
  words: Key;
  names: readonly string[];
}

const patterns: readonly Pattern[] = [
  {
    shape: /^is (.+), accepted (?:is )?(\S+) to (.+)$/,
    words: 'problem.range',
    names: ['value', 'low', 'high'],
  },
  { shape: /^is "(.*)", accepted(?: is|:) (?!a date)(.*)$/, words: 'problem.word', names: ['value', 'list'] },
  { shape: /^the field has no crop entered for crop year (\d+)$/, words: 'problem.noCrop', names: ['year'] },
  {
    shape: /^is "(.*)", expected (?:a name|three capital letters) like (.+)$/,
    words: 'problem.like',
    names: ['value', 'example'],
  },
  { shape: /^is no time of day/, words: 'problem.time', names: [] },
  { shape: /^is "(.*)", (?:expected|accepted is) a date/, words: 'problem.date', names: ['value'] },
  {
    shape: /^has (\d+) characters, accepted (?:is )?(\d+) to (\d+)$/,
    words: 'problem.length',
    names: ['value', 'low', 'high'],
  },
];

/** What screens call the parts of a record; a part without a name here keeps its own. */
const labels: Readonly<{ [part: string]: Key }> = {
  nitrate: 'soil.nitrate',
  ph: 'soil.ph',
  sampled: 'soil.sampled',
  layers: 'soil.layer',
  bulkDensity: 'soil.bulkDensity',
  organicMatter: 'soil.organic',
  ppmRule: 'soil.ppmRule',
  yield: 'plan.yield',
  price: 'plan.price',
  nitrogenPrice: 'plan.nPrice',
  openerSpread: 'plan.opener',
  rowSpacing: 'plan.rows',
  seeded: 'plan.seeded',
  emerged: 'plan.emerged',
  fertilizers: 'plan.fertilizers',
  inoculants: 'plan.inoculants',
  harvested: 'harvest.yield',
  nitrogen: 'harvest.nitrogen',
  protein: 'harvest.protein',
  rain: 'reckon.rain',
  on: 'reckon.on',
  rate: 'plan.rate',
  cellsPerSeed: 'plan.cells',
  hoursOnSeed: 'plan.hours',
  labelHours: 'plan.labelHours',
  top: 'soil.from',
  bottom: 'soil.to',
  crop: 'crop',
  area: 'col.area',
  name: 'people.name',
  password: 'signIn.password',
  login: 'signIn.login',
  timeZone: 'account.timeZone',
  currency: 'account.currency',
  seedRate: 'seeding.rate',
  seedDepth: 'seeding.depth',
  starterUsed: 'seeding.starter',
  seed: 'prices.seed',
  product: 'pass.product',
  time: 'pass.time',
  reEntryHours: 'pass.hours',
  stand: 'stand.title',
  row: 'stand.length',
  spacing: 'stand.spacing',
  hoop: 'stand.inside',
};

/** Parts that only say where in the engine's input a value stands. */
const silent = new Set(['value', 'soilTest', 'plan', 'ground', 'history', 'harvest', 'rescue', 'season', 'digs']);

/** What screens call a part of a record. */
export function label(part: string): string {
  const key = labels[part];
  return key ? t(key) : part;
}

/** A pass or dig has its own form: which one of them it is need not be said. */
const ofItsForm = /^(passes|digs)\.\d+\./;

function where(path: string): string {
  if (/^passes\.\d+\.date$/.test(path)) return t('pass.date');
  if (path.startsWith('rescue.rate')) return t('reckon.rate');
  if (/^digs\.\d+\.date$/.test(path)) return t('part.when');
  const price = `prices.${/^prices\.(\w+)\./.exec(path)?.[1] ?? ''}`;
  if (hasKey(price)) return t(price);
  const parts = path
    .replace(ofItsForm, '')
    .split('.')
    .filter((part) => !silent.has(part));
  return parts
    .map((part) => {
      const label = labels[part];
      return label ? t(label) : /^\d+$/.test(part) ? String(Number(part) + 1) : part;
    })
    .join(' ');
}

/** "40468,564224 ha" of "40468.564224 ha": a number as people write it, and its unit in their words. */
function amount(text: string): string {
  const [, number, unit = ''] = /^(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)(?: (.+))?$/.exec(text) ?? [];
  if (number === undefined) return text;
  const plain = Number(number).toLocaleString('en', { maximumFractionDigits: 20, useGrouping: false });
  const written = locale() === 'fr-CA' ? plain.replace('.', ',') : plain;
  return unit ? `${written} ${showUnit(unit)}` : written;
}

function what(message: string): string {
  for (const { shape, words, names } of patterns) {
    const found = shape.exec(message);
    if (found)
      return t(words, Object.fromEntries(names.map((name, i) => [name, amount(found[i + 1] ?? '')])));
  }
  return message;
}

const cropName = (crop: string): string => (hasKey(`crop.${crop}`) ? t(`crop.${crop}` as Key) : crop);

/** A crop that is not worked out, by the names that people have for crops. */
function cropWords(message: string): string {
  const [, crop, list] = /^is "(.*)", accepted(?: is|:) (.*)$/.exec(message) ?? [];
  if (crop === undefined || list === undefined) return '';
  if (crop === 'other' || crop === '') return t('problem.noCropSaid');
  const known = list.split(', ').map((c) => within(cropName(c)));
  return t('problem.crop', { crop: cropName(crop), list: known.join(', ') });
}

/** "Nitrate: is 60000, accepted 0 to 1000 ppm": where it is, what it is, what is accepted. */
export function problemWords(problem: Problem | undefined): string {
  if (!problem) return '';
  if (problem.code === 'handin') return t('problem.handin');
  if (problem.code === 'link') return t('problem.link');
  if (problem.code === 'newer') return t('problem.newer');
  const crop = problem.field === 'crop' ? cropWords(problem.message) : '';
  if (crop) return crop;
  const text = what(problem.message);
  return problem.field && problem.field !== 'season' ? `${where(problem.field)}: ${text}` : text;
}
