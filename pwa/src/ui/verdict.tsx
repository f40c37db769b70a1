// What one dig says, in the order a scout needs it: the class, what it means, when to come back.
import type { DigPart, Report } from '../wire.gen';
import { decisionsOf } from '../state/decision';
import { one } from '../state/records';
import { mayPlan } from '../state/session';
import { hasKey, say, showDate, t, tn, type Key } from '../state/words';
import { chanceRange } from '../state/unit';
import { RangeBar } from './chance';
import { NextVisit } from './dates';
import { FigureBlock } from './figure';
import { Fold } from './fold';
import { ClassMark, classWords } from './headline';
import { RescueWords } from './rescue';

interface Props {
  part: DigPart;
  report: Report;
  /** Without what a page of its own says beside it: rescue, dates, who decides. */
  bare?: boolean;
}

export function Verdict({ part, report, bare }: Props) {
  const { share, fail } = part;
  const last = report.digs.at(-1)?.id === part.id;
  return (
    <section class="answer verdict">
      {part.enough === 'more' && <h2>{t('verdict.soFar')}</h2>}
      <p class="key words">
        <ClassMark of={part.class} /> {classWords(part.class)}
      </p>
      {part.enough === 'more' ? (
        <p class="enough">{enoughWords(part)}</p>
      ) : (
        <p>{meaningWords(part.class)}</p>
      )}
      {share.value !== undefined && (
        <>
          <RangeBar
            wide
            value={share.value}
            low={share.low}
            high={share.high}
            label={shareWords(part)}
          />
          <p>{shareWords(part)}</p>
        </>
      )}
      {fail.value !== undefined && (
        <p>{t('verdict.fail', { chance: chanceRange(fail.value, fail.low, fail.high) })}</p>
      )}
      {part.messages.filter((m) => unsaid(m, part)).map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
      {last && !bare && (
        <>
          <h2>{t('verdict.back')}</h2>
          <NextVisit report={report} />
          <h2>{t('rescue.wouldPay')}</h2>
          <RescueWords report={report} />
        </>
      )}
      {!bare && <Stamp dig={part.id} />}
      <Fold title={t('answer.how')}>
        <FigureBlock label={t('verdict.share')} figure={part.share} report={report} />
        <FigureBlock label={t('verdict.score')} figure={part.score} report={report} />
        <FigureBlock label={t('verdict.scoreA')} figure={part.scoreA} report={report} />
        <FigureBlock label={t('verdict.scoreB')} figure={part.scoreB} report={report} />
        <FigureBlock label={t('verdict.scoreC')} figure={part.scoreC} report={report} />
        <FigureBlock label={t('verdict.failBefore')} figure={part.failBefore} report={report} />
        <FigureBlock label={t('verdict.failAfter')} figure={part.fail} report={report} />
        {last && !bare && (
          <>
            <FigureBlock label={t('part.pays')} figure={report.rescue.pays} report={report} />
            <FigureBlock label={t('part.net')} figure={report.rescue.net} report={report} />
          </>
        )}
      </Fold>
    </section>
  );
}

/** What the class means, and to whom it matters now: who decides is not sent to himself. */
function meaningWords(of: string): string {
  const yours = `meaning.${of}.yours`;
  return t(mayPlan.value && hasKey(yours) ? yours : (`meaning.${of}` as Key));
}

/** Provisional until somebody who may decide has decided on this dig. */
function Stamp({ dig }: { dig: string }) {
  const body = one('dig', dig)?.body;
  const looked =
    body && decisionsOf(body.field, body.cropYear).find((d) => d.body.digs.includes(dig));
  if (!looked)
    return (
      <p class="stamp">{t(mayPlan.value ? 'verdict.provisional.yours' : 'verdict.provisional')}</p>
    );
  const { who, date } = looked.body;
  return <p class="stamp">{t('verdict.looked', { who, date: showDate(date) })}</p>;
}

/**
 * How many spots more already stands above, right under the class; and a field in which it is too
 * early to tell is not one in between.
 */
const unsaid = ({ code }: DigPart['messages'][number], part: DigPart): boolean =>
  code !== 'dig.more' && !(code === 'dig.undecided' && part.class === 'tooEarly');

export const digWords = (part: DigPart): string => classWords(part.class, part.enough);

/** "21 of 30 plants adequate; the field lies between 45 and 87 of 100". */
export function shareWords(part: DigPart): string {
  const { adequate, counted, share } = part;
  const base = t('verdict.counted', { adequate, counted });
  if (share.low === undefined || share.high === undefined) return base;
  const of100 = (v: number) => Math.round(v * 100);
  return t('verdict.interval', { base, low: of100(share.low), high: of100(share.high) });
}

/** A plant that lacks nodules is not a poor one while it is too early to tell. */
export const plantResult = (result: string, part: DigPart | undefined): string =>
  part?.class === 'tooEarly' && result === 'poor' ? 'notYet' : result;

/** "enough", or how many spots more. */
export function enoughWords(part: DigPart): string {
  if (part.enough === 'more') return tn('enough.more', Math.max(1, part.moreSpots));
  if (part.class === 'tooEarly') return t('enough.tooEarly');
  return t(`enough.${part.enough}` as Key);
}
