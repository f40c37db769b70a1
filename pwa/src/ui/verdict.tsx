// What one dig says, in the order a scout needs it: the class, what it means, when to come back.
import type { DigPart, Report } from '../wire.gen';
import { say, t, tn, type Key } from '../state/words';
import { chanceRange } from '../state/unit';
import { RangeBar } from './chance';
import { FigureBlock } from './figure';
import { ClassMark, classWords } from './headline';

export function Verdict({ part, report }: { part: DigPart; report: Report }) {
  const { share, fail } = part;
  return (
    <section class="answer verdict">
      {part.enough === 'more' && <h2>{t('verdict.soFar')}</h2>}
      <p class="key words">
        <ClassMark of={part.class} /> {classWords(part.class)}
      </p>
      {part.enough === 'more' ? (
        <p class="enough">{enoughWords(part)}</p>
      ) : (
        <p>{t(`meaning.${part.class}` as Key)}</p>
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
      {part.messages.map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
      <p class="stamp">{t('verdict.provisional')}</p>
      <details class="reason">
        <summary>{t('verdict.how')}</summary>
        <FigureBlock label={t('verdict.share')} figure={part.share} report={report} />
        <FigureBlock label={t('verdict.score')} figure={part.score} report={report} />
        <FigureBlock label={t('verdict.scoreA')} figure={part.scoreA} report={report} />
        <FigureBlock label={t('verdict.scoreB')} figure={part.scoreB} report={report} />
        <FigureBlock label={t('verdict.scoreC')} figure={part.scoreC} report={report} />
        <FigureBlock label={t('verdict.failBefore')} figure={part.failBefore} report={report} />
        <FigureBlock label={t('verdict.failAfter')} figure={part.fail} report={report} />
      </details>
    </section>
  );
}

export const digWords = (part: DigPart): string => classWords(part.class, part.enough);

/** "21 of 30 plants adequate; the field lies between 45 and 87 of 100". */
export function shareWords(part: DigPart): string {
  const { adequate, counted, share } = part;
  const base = t('verdict.counted', { adequate, counted });
  if (share.low === undefined || share.high === undefined) return base;
  const of100 = (v: number) => Math.round(v * 100);
  return t('verdict.interval', { base, low: of100(share.low), high: of100(share.high) });
}

/** "enough", or how many spots more. */
export function enoughWords(part: DigPart): string {
  if (part.enough === 'more') return tn('enough.more', Math.max(1, part.moreSpots));
  return t(`enough.${part.enough}` as Key);
}
