// Every sentence on screen comes from a catalogue. English is always there; French and the
// engine's words come in at their first use (and are kept for the offline case all the same).
import { computed, effect, signal } from '@preact/signals';
import english from '../words/ui.en.json';
import type { Arg, Message } from '../wire.gen';
import { numberIn, type Locale } from './intl';
import { language, type Language } from './prefs';
import { atDesk } from './place';
import { today } from './records';

export type Key = keyof typeof english;
type Catalogue = Readonly<Record<string, string>>;
export type Args = Readonly<Record<string, string | number>>;

const french = signal<Catalogue | undefined>(undefined);
const engine = signal<Partial<Record<Language, Catalogue>>>({});

const ui = computed<Catalogue>(() =>
  language.value === 'fr' && french.value ? french.value : english,
);

effect(() => {
  if (language.value !== 'fr' || french.peek()) return;
  void import('../words/ui.fr.json').then((m) => (french.value = unbroken(m.default)));
});

/** French sets a space before : ; ? ! and inside « »: no line may begin or end with the sign alone. */
function unbroken(words: Catalogue): Catalogue {
  const held = (text: string) => text.replace(/ (?=[:;?!»])/g, '\u00a0').replaceAll('« ', '«\u00a0');
  return Object.fromEntries(Object.entries(words).map(([key, text]) => [key, held(text)]));
}

const engineFiles: Record<Language, () => Promise<{ default: Catalogue }>> = {
  en: () => import('../../../internal/words/engine.en.json'),
  fr: () =>
    Promise.all([
      import('../../../internal/words/engine.fr.json'),
      import('../../../internal/words/source.fr.json'),
    ]).then(([words, sources]) => ({ default: { ...words.default, ...sources.default } })),
};

/** Loads the engine's words of the chosen language; screens show codes' words once they are in. */
export function loadEngineWords(): void {
  const lang = language.value;
  if (engine.peek()[lang]) return;
  void engineFiles[lang]().then(({ default: words }) => {
    const held = lang === 'fr' ? unbroken(words) : words;
    engine.value = { ...engine.peek(), [lang]: held };
  });
}

export function fill(text: string, args: Args): string {
  return text.replace(/\{(\w+)\}/g, (all: string, name: string) => String(args[name] ?? all));
}

/** The words for a key of this program. */
export function t(key: Key, args: Args = {}): string {
  // A key made of a code that has no word yet shows itself: no screen falls for want of a word.
  const text = ui.value[key] ?? english[key] ?? key;
  // "Kept on this phone" would be odd at a desk: what holds the work is called what it is.
  return fill(text, text.includes('{here}') ? { here: t(hereKey()), ...args } : args);
}

const hereKey = (): Key => (atDesk.value ? 'here.desk' : 'here.phone');

/** Words that may stand alone, as they stand inside a sentence. */
export const within = (text: string): string =>
  /^\p{Lu}(?!\p{Ll}|[’'])/u.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1);

/** Whether this program has words for a key that was put together. */
export const hasKey = (key: string): key is Key => key in english;

/** The words for "one" or "many", by key.one and key.many. */
export function tn(key: string, n: number, args: Args = {}): string {
  return t(`${key}.${n === 1 ? 'one' : 'many'}` as Key, { n, ...args });
}

/** The language and country by which numbers and dates are written. */
export const locale = (): Locale => (language.value === 'fr' ? 'fr-CA' : 'en-CA');

export function showNumber(value: number, digits = 1): string {
  const most = Math.abs(value) >= 100 ? Math.min(digits, 0) : digits;
  return numberIn(locale(), value, most).replace('-', '\u2212');
}

/** "12 June" of a date, by the months of a key, and the year where it is not the year of today. */
function dayAndMonth(day: Date, months: Key): string {
  const year = day.getUTCFullYear();
  const month = t(months).split(' ')[day.getUTCMonth()] ?? '';
  const date = day.getUTCDate();
  const words = `${date === 1 ? t('date.first') : date}\u00a0${month}`;
  return year === Number(today.value.slice(0, 4)) ? words : `${words} ${year}`;
}

/** "Thu 12 June"; with the year where it is not the year of today. */
export function showDate(date: string): string {
  const day = new Date(`${date}T12:00:00Z`);
  if (Number.isNaN(day.getTime())) return date;
  const weekday = t('date.weekdays').split(' ')[day.getUTCDay()] ?? '';
  return `${weekday}\u00a0${dayAndMonth(day, 'date.months')}`;
}

/** "24 Oct", with the year where it is not today's: for tables. */
export function showShortDate(date: string): string {
  const day = new Date(`${date}T12:00:00Z`);
  if (Number.isNaN(day.getTime())) return date;
  return dayAndMonth(day, 'date.monthsShort');
}

export function showTime(iso: string): string {
  const at = new Date(iso);
  const [hour, minute] = [at.getHours(), at.getMinutes()].map((n) => String(n).padStart(2, '0'));
  return clock(hour ?? '', minute ?? '');
}

const clock = (hour: string, minute: string): string =>
  [hour, minute].join(language.value === 'fr' ? '\u00a0h\u00a0' : ':');

/** "14:02" for the same day, "Thu 12 June 14:02" for another. */
export function showMoment(iso: string, nowMS: number): string {
  const then = new Date(iso);
  const now = new Date(nowMS);
  if (then.toDateString() === now.toDateString()) return showTime(iso);
  const local = new Date(then.getTime() - then.getTimezoneOffset() * 60_000);
  return `${showDate(local.toISOString().slice(0, 10))} ${showTime(iso)}`;
}

/** The words of the language for a unit of the engine or of a form; the unit itself otherwise. */
export function showUnit(unit: string): string {
  const words = engine.value[language.value];
  return words?.[`unit.${unit}`] ?? unit;
}

/** How screens write an amount; set by state/unit, which knows the person's units. */
type Write = (value: number, unit: string) => string;
let writeAmount: Write = (value, unit) => `${showNumber(value, 2)} ${showUnit(unit)}`.trim();

export function writeAmountsBy(write: Write): void {
  writeAmount = write;
}

/** A date, or a date and an hour: 2027-06-13T07:00. */
function showDay(date: string): string {
  const [day = '', time = ''] = date.split('T');
  const [hour = '', minute = ''] = time.split(':');
  return [showDate(day), minute && clock(hour, minute)].join(' ').trim();
}

function showArg(arg: Arg): string {
  if (arg.number !== undefined) return writeAmount(arg.number, arg.unit ?? '');
  if (arg.date !== undefined) return showDay(arg.date);
  if (arg.code !== undefined) return say({ code: arg.code });
  return arg.text ?? '';
}

/** The sentence for one of the engine's codes. Until the words are in, nothing is shown. */
export function say(message: Message): string {
  const words = engine.value[language.value] ?? engine.value.en;
  if (!words) return '';
  const text = words[message.code] ?? message.code;
  const args: Record<string, string> = {};
  for (const [name, arg] of Object.entries(message.args ?? {})) args[name] = showArg(arg);
  return fill(text, args).replace(/(\d)–(?=\d)/g, '$1\u2060–\u2060'); // "5–6" on one line
}

export const sayCode = (code: string): string => say({ code });

/** A code's words where its arguments are not at hand: what stands in brackets with them goes. */
export const sayBare = (code: string): string =>
  sayCode(code).replaceAll(/ \([^)]*\{\w+\}[^)]*\)/g, '');

/** What the chosen language says instead of words that come with the data; undefined where nothing. */
export const saidInstead = (code: string): string | undefined =>
  engine.value[language.value]?.[code];

/** Whether the catalogue of the engine has a code. */
export const hasCode = (code: string): boolean => !!engine.value.en?.[code];
