// The whole working: every part of the report in order, whatever shape it has, so that nothing the
// engine computes stays out of sight. What a value is shows in its shape; its name gives the label.
import type { Figure, Message, NamedFigure, Report, Window } from '../wire.gen';
import { say, sayCode, hasCode, hasKey, showDate, showNumber, t } from '../state/words';
import { FigureBlock, Leader, Sources, kindWords, unknownWords } from './figure';
import { Fold } from './fold';

/** Parts of the report in the order in which they are reached; the rest is shown elsewhere. */
export const workingParts = [
  'nitrogen',
  'starter',
  'products',
  'seeding',
  'facts',
  'rhizobia',
  'inoculation',
  'digs',
  'stage',
  'rescue',
  'stress',
  'balance',
  'rotation',
  'strips',
  'value',
] as const satisfies readonly (keyof Report)[];

/** Which family of the engine's codes a word belongs to, by the name of its value. */
const families: Readonly<{ [name: string]: readonly string[] }> = {
  others: ['beanRule'],
  netByRoot: ['root'],
  credit: ['credit'],
  chosen: ['rule', 'credit'],
  other: ['soyCount'],
  product: ['product'],
  offered: ['offer'],
  basis: ['basis'],
  rootRot: ['rootRot'],
  limit: ['rescueBy'],
  rule: ['inoculate'],
  response: ['response'],
  decision: ['decision'],
  class: ['class'],
  band: ['band'],
  enough: ['enough'],
  when: ['when'],
  visit: ['visit'],
  result: ['result'],
  method: ['degreeDays'],
  key: ['option'],
  advice: ['option'],
  crop: ['crop'],
};

const skipped = new Set(['id', 'sources', 'kind']);

type Bag = Readonly<{ [name: string]: unknown }>;

const isBag = (v: unknown): v is Bag => typeof v === 'object' && v !== null && !Array.isArray(v);
const isFigure = (v: Bag): boolean => 'unit' in v && 'kind' in v;
const isMessage = (v: Bag): boolean => typeof v['code'] === 'string';
const isNamed = (v: Bag): boolean => 'rule' in v && isBag(v['figure']);
const windowNames = ['date', 'from', 'to', 'unknown', 'kind', 'sources'];
const isWindow = (v: Bag): boolean =>
  'kind' in v && Object.keys(v).every((name) => windowNames.includes(name));

/** Whether there is anything to say; parts that the engine left blank are passed over. */
function says(v: unknown): boolean {
  if (Array.isArray(v)) return v.some(says);
  if (!isBag(v)) return v !== undefined && v !== null && v !== '';
  if (isFigure(v) || isWindow(v)) return v['kind'] !== '' || v['unknown'] !== undefined;
  return Object.entries(v).some(([name, inner]) => !skipped.has(name) && says(inner));
}

export function partWords(name: string): string {
  const key = `part.${name}`;
  return hasKey(key) ? t(key) : name;
}

function wordOf(name: string, text: string): string {
  if (/^\d{4}-\d{2}-\d{2}$/.test(text)) return showDate(text);
  const family = families[name]?.find((f) => hasCode(`${f}.${text}`));
  return family ? sayCode(`${family}.${text}`) : text;
}

function plainWords(name: string, v: unknown): string {
  if (typeof v === 'boolean') return t(v ? 'form.yes' : 'form.no');
  if (typeof v === 'number') return name === 'cropYear' ? String(v) : showNumber(v, 2);
  return wordOf(name, String(v));
}

/** Every part, each behind its own line; what is behind it is made when it is opened. */
export function WholeWorking({ report }: { report: Report }) {
  const parts = workingParts.filter((part) => says(report[part]));
  return (
    <Fold title={t('working.title')}>
      {parts.map((part) => (
        <Fold key={part} title={partWords(part)}>
          <Value name={part} value={report[part]} report={report} />
        </Fold>
      ))}
    </Fold>
  );
}

/** One part of the report by itself. */
export function Part({ name, report }: { name: keyof Report; report: Report }) {
  return <Value name={name} value={report[name]} report={report} />;
}

interface ValueProps {
  name: string;
  value: unknown;
  report: Report;
}

function Value({ name, value, report }: ValueProps) {
  if (!says(value)) return null;
  if (Array.isArray(value)) return <List name={name} list={value} report={report} />;
  if (!isBag(value)) return <Leader label={partWords(name)}>{plainWords(name, value)}</Leader>;
  if (isFigure(value)) return <Num label={partWords(name)} value={value} report={report} />;
  if (isNamed(value)) return <Named name={name} value={value} report={report} />;
  if (isMessage(value)) return <p>{say(value as unknown as Message)}</p>;
  if (isWindow(value)) return <Day label={partWords(name)} value={value} report={report} />;
  return <Inner value={value} report={report} />;
}

function Num({ label, value, report }: { label: string; value: Bag; report: Report }) {
  return <FigureBlock label={label} figure={value as unknown as Figure} report={report} />;
}

function Named({ name, value, report }: { name: string; value: Bag; report: Report }) {
  const { rule, figure } = value as unknown as NamedFigure;
  return <FigureBlock label={wordOf(name, rule)} figure={figure} report={report} />;
}

function windowWords(w: Window): string {
  if (w.unknown) return unknownWords(w.unknown);
  const span = w.from && w.to ? { low: showDate(w.from), high: showDate(w.to) } : undefined;
  if (w.date && span) return t('figure.range', { value: showDate(w.date), ...span });
  if (w.date) return showDate(w.date);
  return span ? t('figure.span', span) : t('figure.none');
}

function Day({ label, value, report }: { label: string; value: Bag; report: Report }) {
  const w = value as unknown as Window;
  return (
    <div class="figure">
      <Leader label={label}>{windowWords(w)}</Leader>
      {w.kind && !w.unknown && <p class="aside">{kindWords(w.kind)}</p>}
      <Sources keys={w.sources ?? []} report={report} />
    </div>
  );
}

function Inner({ value, report }: { value: Bag; report: Report }) {
  const entries = Object.entries(value).filter(([name]) => !skipped.has(name));
  return (
    <>
      {entries.map(([name, v]) =>
        isBag(v) && says(v) && !isFigure(v) && !isMessage(v) && !isWindow(v) ? (
          <section key={name}>
            <h3>{partWords(name)}</h3>
            <Value name={name} value={v} report={report} />
          </section>
        ) : (
          <Value key={name} name={name} value={v} report={report} />
        ),
      )}
    </>
  );
}

/** Sentences that follow from the figures above them need no heading of their own. */
const bare = new Set(['notes', 'messages', 'reasons', 'digs', 'lines', 'options']);

function List({ name, list, report }: { name: string; list: readonly unknown[]; report: Report }) {
  const bags = list.filter(isBag);
  const flat = bags.every((v) => Object.values(v).every((x) => !isBag(x) && !Array.isArray(x)));
  const rows = flat && !bags.some(isMessage) && !bags.some(isFigure);
  return (
    <>
      {!bare.has(name) && <h3>{partWords(name)}</h3>}
      {rows && bags.length > 0 ? (
        <Rows list={bags} />
      ) : (
        list.map((v, i) => (
          <div key={i} class={name === 'digs' || name === 'options' ? 'answer' : ''}>
            <Value name={name} value={v} report={report} />
          </div>
        ))
      )}
    </>
  );
}

function Rows({ list }: { list: readonly Bag[] }) {
  const names = [...new Set(list.flatMap((row) => Object.keys(row)))];
  return (
    <table>
      <thead>
        <tr>
          {names.map((name) => (
            <th key={name}>{partWords(name)}</th>
          ))}
        </tr>
      </thead>
      <tbody>
        {list.map((row, i) => (
          <tr key={i}>
            {names.map((name) => (
              <td key={name}>{row[name] === undefined ? '' : plainWords(name, row[name])}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
