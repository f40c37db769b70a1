// The answer for one field: what to apply, what to inoculate with, how likely it fails and what
// that costs. Working and sources of each figure stand one tap below it.
import { useSignal } from '@preact/signals';
import type { Figure, Option, Report } from '../wire.gen';
import { chanceRange, showAmount } from '../state/unit';
import { say, sayCode, t, within, type Key } from '../state/words';
import { RangeBar } from './chance';
import { starterWords } from './headline';
import { FigureBlock, figureWords } from './figure';

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

/** How the figures of an answer were reached; made when it is opened. */
function How({ report, of }: { report: Report; of: readonly (readonly [string, Figure])[] }) {
  const opened = useSignal(false);
  const label = of.map(([name]) => name).join(', ');
  return (
    <details class="reason how" onToggle={(e) => (opened.value = e.currentTarget.open)}>
      <summary aria-label={`${t('answer.how')}: ${label}`}>{t('answer.how')}</summary>
      {opened.value &&
        of.map(([name, figure]) => (
          <FigureBlock key={name} label={name} figure={figure} report={report} open />
        ))}
    </details>
  );
}

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
          words: within(otherWords(report)),
        })}
      </p>
      <How
        report={report}
        of={[
          [t('reason.rate'), own.rate],
          [t('reason.withProduct'), own.withProduct],
          [t('rule.other'), otherSet(report).rate],
        ]}
      />
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
  const option = chosen(report);
  return (
    <section class="answer">
      <h2>{t('answer.inoculant')}</h2>
      <p class="key">{optionWords(planned?.key ?? advice)}</p>
      {planned && planned.key !== advice && advice !== 'unknown' && (
        <p>{t('answer.calls', { option: within(optionWords(advice)) })}</p>
      )}
      {planned?.notAllowed && <p class="error">{say(planned.notAllowed)}</p>}
      {reasons.slice(0, 2).map((r) => (
        <p key={r.code}>{say(r)}</p>
      ))}
      {option && (
        <How
          report={report}
          of={[
            [t('reason.fail'), option.fail],
            [t('reason.adequate'), option.adequate],
          ]}
        />
      )}
    </section>
  );
}

export function RiskAnswer({ report }: { report: Report }) {
  const option = chosen(report);
  const { fail, failLow, failHigh } = report.headline;
  if (!option || fail === undefined) return null;
  const words = chanceRange(fail, failLow, failHigh);
  const last = report.digs.at(-1);
  const behind = last?.fail.value === undefined ? option.fail : last.fail;
  const loss = lossOf(report, option);
  return (
    <section class="answer">
      <h2>{t('answer.fail')}</h2>
      <p class="key words">{words}</p>
      <RangeBar wide value={fail} low={failLow} high={failHigh} label={words} />
      <p>{last ? t('answer.failDug') : t('answer.failPlan', { option: within(optionWords(option.key)) })}</p>
      <p>{t('answer.loss', { words: figureWords(loss).replace(/\.$/, '') })}</p>
      <How
        report={report}
        of={[
          [t('reason.fail'), behind],
          [t('reason.loss'), loss],
        ]}
      />
    </section>
  );
}

/** What a failure costs: after a dig what its roots leave to lose, before it what the plan does. */
function lossOf(report: Report, option: Option): Figure {
  const { lossShare, lossLow, lossHigh } = report.headline;
  const { lost } = report.rescue;
  if (report.digs.length > 0 && lossShare !== undefined) {
    if (lost.value !== undefined) return lost;
    const range = lossLow === undefined || lossHigh === undefined ? {} : { low: lossLow, high: lossHigh };
    return { ...option.lossShare, value: lossShare, ...range };
  }
  const { lossMoney, lossYield } = option;
  return [lossMoney, lossYield].find((f) => f.value !== undefined) ?? option.lossShare;
}

/** Of the rotation these alone are no reason for a second look. */
const quiet = new Set(['rotation.noHost', 'rotation.gap', 'rotation.resistant', 'rotation.test']);

/** What the rotation says against this crop: root rot, other diseases, labels of earlier passes. */
export function RotationAnswer({ report }: { report: Report }) {
  const { rootRot, messages } = report.rotation;
  const atRisk = rootRot === 'red' || rootRot === 'amber';
  if (!atRisk && messages.every((m) => quiet.has(m.code))) return null;
  return (
    <section class="answer">
      <h2>{t('answer.rotation')}</h2>
      {atRisk && (
        <p class="key words">{t('answer.rootRot', { grade: within(sayCode(`rootRot.${rootRot}`)) })}</p>
      )}
      {messages.map((m) => (
        <p key={m.code}>{say(m)}</p>
      ))}
    </section>
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
