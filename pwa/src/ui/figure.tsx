// One computed number: first what it is; one tap below it stand how it was reached and where the
// numbers behind it come from.
import type { Figure, Message, Report, Source, Step } from '../wire.gen';
import { apart, showAmount, chanceRange } from '../state/unit';
import { say, sayCode, hasCode, saidInstead, t, type Key } from '../state/words';
import { RangeBar } from './chance';

/** That something is not known, and why; a reason that says so itself says it once. */
export function unknownWords(m: Message): string {
  const why = say(m);
  return why.startsWith(t('figure.unknownBegins')) ? why : t('figure.unknown', { why });
}

/** The value with its range, or why it is unknown. */
export function figureWords(f: Figure): string {
  if (f.unknown) return unknownWords(f.unknown);
  const { value, low, high, unit } = f;
  if (value === undefined) {
    if (low === undefined || high === undefined) return t('figure.none');
    return t('figure.span', { low: showAmount(low, unit), high: showAmount(high, unit) });
  }
  if (unit === 'chance') return chanceRange(value, low, high);
  if (low === undefined || high === undefined || low === high) return showAmount(value, unit);
  const [v, l, h] = [value, low, high].map((n) => apart(n, unit));
  if (v && l && h) {
    return `${t('figure.range', { value: v.number, low: l.number, high: h.number })} ${v.unit}`.trim();
  }
  return t('figure.range', {
    value: showAmount(value, unit),
    low: showAmount(low, unit),
    high: showAmount(high, unit),
  });
}

export const kindWords = (kind: string): string => t(`kind.${kind}` as Key);

/** Label ..... value, as a printed table sets it. */
export function Leader({ label, children }: { label: string; children: preact.ComponentChildren }) {
  return (
    <div class="leader">
      <span class="leader-label">{label}</span>
      <span class="leader-value">{children}</span>
    </div>
  );
}

interface Props {
  label: string;
  figure: Figure;
  report: Report;
  open?: boolean;
}

export function FigureBlock({ label, figure, report, open }: Props) {
  const chance = figure.unit === 'chance' && figure.value !== undefined;
  const { steps = [], changes = [], sources = [] } = figure;
  return (
    <div class="figure">
      <Leader label={label}>{figureWords(figure)}</Leader>
      {chance && figure.value !== undefined && (
        <RangeBar
          value={figure.value}
          low={figure.low}
          high={figure.high}
          label={figureWords(figure)}
        />
      )}
      {changes.length > 0 && (
        <ul class="changes">
          {changes.map((c) => (
            <li key={c.code}>{say(c)}</li>
          ))}
        </ul>
      )}
      {(steps.length > 0 || sources.length > 0) && (
        <details open={open}>
          <summary>{t('figure.how', { kind: kindWords(figure.kind) })}</summary>
          {steps.length > 0 && (
            <ol class="steps">
              {steps.map((s, i) => (
                <StepLine key={`${s.code}${i}`} step={s} />
              ))}
            </ol>
          )}
          <Sources keys={sources} report={report} />
          {figure.kind === 'ours' && (
            <a class="to-model" href="/model">
              {t('figure.model')}
            </a>
          )}
        </details>
      )}
    </div>
  );
}

function StepLine({ step }: { step: Step }) {
  return (
    <li>
      <Leader label={say(step)}>{showAmount(step.value, step.unit)}</Leader>
    </li>
  );
}

/** A part of a source in the person's language; a publication keeps its own title. */
const partOf = (s: Source, part: 'author' | 'title' | 'locator'): string =>
  saidInstead(`${s.key}.${part}`) ?? s[part] ?? '';

/** Who and what, without the place in it: for paper. */
export function workWords(s: Source): string {
  const who = [partOf(s, 'author'), s.year].filter(Boolean).join(' ');
  return [who, partOf(s, 'title')].filter(Boolean).join('. ');
}

function sourceWords(s: Source): string {
  const work = workWords(s);
  const at = partOf(s, 'locator');
  const text = work && at ? t('figure.source', { work, at }) : work || at;
  return `${text} (${kindWords(s.kind)})`;
}

/** The sources behind a figure, beside its working. */
export function Sources({ keys, report }: { keys: readonly string[]; report: Report }) {
  return <SourceList sources={report.sources.filter((s) => keys.includes(s.key))} />;
}

export function SourceList({ sources: found }: { sources: readonly Source[] }) {
  if (found.length === 0) return null;
  return (
    <section class="sources">
      <p>{t('figure.sources', { n: found.length })}</p>
      <ul>
        {found.map((s) => (
          <li key={s.key}>{sourceWords(s)}</li>
        ))}
      </ul>
    </section>
  );
}

/** Words for a code that either catalogue may know. */
export const codeWords = (code: string): string => (hasCode(code) ? sayCode(code) : code);
