// The answer for one field: what to apply, what to inoculate with, how likely it fails and what
// that costs. Reasons stand one tap below.
import type { Figure, Option, Report } from '../wire.gen';
import { chanceRange, showAmount } from '../state/unit';
import { say, showDate, t, type Key } from '../state/words';
import { RangeBar } from './chance';
import { starterWords } from './headline';
import { figureWords } from './figure';

export const optionWords = (key: string): string => t(`option.${key}` as Key);

/** The plan's option where something is planned, else the one advised. */
export function chosen(report: Report): Option | undefined {
  const { planned, options, advice } = report.inoculation;
  return planned ?? options.find((o) => o.key === advice);
}

const set = (report: Report) =>
  report.starter.chosen === 'practice' ? report.starter.practice : report.starter.published;

const otherSet = (report: Report) =>
  report.starter.chosen === 'practice' ? report.starter.published : report.starter.practice;

export function StarterAnswer({ report }: { report: Report }) {
  const own = set(report);
  const rate = own.rate.value;
  const numeric = rate !== undefined && (own.decision === 'apply' || own.decision === 'optional');
  return (
    <section class="answer">
      <h2>{t('answer.starter')}</h2>
      {numeric && rate > 0 ? (
        <p class="key">
          {showAmount(rate, 'lb/ac')} <span>N</span>
        </p>
      ) : (
        <p class="key">{t(`decision.${own.decision}` as Key)}</p>
      )}
      {numeric && <p>{t(`decision.${own.decision}` as Key)}</p>}
      {own.reasons.slice(0, 2).map((r) => (
        <p key={r.code}>{say(r)}</p>
      ))}
      {own.limit && <p>{say(own.limit)}</p>}
      <p class="aside">
        {t('answer.otherRule', {
          rule: t(report.starter.chosen === 'practice' ? 'rule.published' : 'rule.practice'),
          words: otherWords(report),
        })}
      </p>
    </section>
  );
}

function otherWords(report: Report): string {
  const other = otherSet(report);
  const n = other.rate.value;
  const starterN = n === undefined ? {} : { starterN: n };
  return starterWords({ starterDecision: other.decision, option: '', missing: [], ...starterN });
}

export function InoculantAnswer({ report }: { report: Report }) {
  const { advice, planned, reasons } = report.inoculation;
  return (
    <section class="answer">
      <h2>{t('answer.inoculant')}</h2>
      <p class="key">{optionWords(planned?.key ?? advice)}</p>
      {planned && planned.key !== advice && advice !== 'unknown' && (
        <p>{t('answer.calls', { option: optionWords(advice) })}</p>
      )}
      {planned?.notAllowed && <p class="error">{say(planned.notAllowed)}</p>}
      {reasons.slice(0, 2).map((r) => (
        <p key={r.code}>{say(r)}</p>
      ))}
    </section>
  );
}

export function RiskAnswer({ report }: { report: Report }) {
  const option = chosen(report);
  const { fail, failLow, failHigh } = report.headline;
  if (!option || fail === undefined) return null;
  const words = chanceRange(fail, failLow, failHigh);
  const dug = report.digs.length > 0;
  return (
    <section class="answer">
      <h2>{t('answer.fail')}</h2>
      <p class="key words">{words}</p>
      <RangeBar wide value={fail} low={failLow} high={failHigh} label={words} />
      <p>{dug ? t('answer.failDug') : t('answer.failPlan', { option: optionWords(option.key) })}</p>
      <Loss option={option} />
    </section>
  );
}

function known(f: Figure): boolean {
  return f.value !== undefined;
}

function Loss({ option }: { option: Option }) {
  const figure = known(option.lossMoney) ? option.lossMoney : option.lossYield;
  if (!known(figure)) return <p>{t('answer.loss', { words: figureWords(option.lossShare) })}</p>;
  return <p>{t('answer.loss', { words: figureWords(figure) })}</p>;
}

/** Nobody walks in before a sprayed field may be walked: it stands above everything else. */
export function KeepOut({ report }: { report: Report }) {
  const { keepOutUntil, labelUnread } = report.stress;
  if (!keepOutUntil && !labelUnread) return null;
  const [day = '', hour = ''] = (keepOutUntil ?? '').split('T');
  const when = [showDate(day), hour].join(' ').trim();
  return (
    <div class="notice" role="note">
      {keepOutUntil && <p>{t('answer.keepOut', { when })}</p>}
      {labelUnread && <p>{t('answer.labelUnread')}</p>}
    </div>
  );
}

export function Missing({ report }: { report: Report }) {
  if (report.missing.length === 0) return null;
  return (
    <section class="answer">
      <h2>{t('answer.missing')}</h2>
      <ul>
        {report.missing.map((m) => (
          <li key={m.code}>{say(m)}</li>
        ))}
      </ul>
    </section>
  );
}
