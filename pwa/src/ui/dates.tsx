// The three dates of a field, look, decide and record, and which of them is next.
import { say, sayCode, showDate, showShortDate, t } from '../state/words';
import type { Report, Window } from '../wire.gen';
import { kindWords, Leader, Sources } from './figure';
import { Fold } from './fold';

/** "about Fri 12 June, between 9 June and 17 June": a window in words, or why there is none. */
export function windowWords(w: Window): string {
  if (w.unknown) return say(w.unknown);
  const { date = '', from = '', to = '' } = w;
  if (date === '') return t('dates.over');
  if (from === to || from === '' || to === '') return showDate(date);
  return t('dates.span', { date: showDate(date), from: showDate(from), to: showDate(to) });
}

/** "about 12 June (9 June – 17 June)": the same for a line of a list. */
function shortWords(w: Window): string {
  const { date = '', from = '', to = '' } = w;
  if (w.unknown || date === '' || from === '' || from === to) return windowWords(w);
  const [at, begin, end] = [date, from, to].map(showShortDate);
  return t('dates.spanShort', { date: at ?? '', from: begin ?? '', to: end ?? '' });
}

const nextWords = (visit: string, due: Window): string =>
  due.unknown
    ? `${t('dates.nextOpen', { visit })} ${say(due.unknown)}`
    : t('dates.next', { visit, when: windowWords(due) });

/** What the digs so far call for, and when. */
export function NextVisit({ report }: { report: Report }) {
  const { visit, due, why } = report.stage.next;
  return (
    <>
      <p class="enough">
        {visit === 'none'
          ? t('dates.none')
          : nextWords(sayCode(`visit.${visit}`), due)}
      </p>
      <p>{say(why)}</p>
    </>
  );
}

export function ThreeDates({ report }: { report: Report }) {
  const { look, decide, record, lastN, basis, notes } = report.stage;
  const dates = [
    ['look', look],
    ['decide', decide],
    ['record', record],
  ] as const;
  return (
    <section class="answer">
      <h2>{t('dates.title')}</h2>
      <NextVisit report={report} />
      {dates
        .filter(([, w]) => !w.unknown) // why is said once, above
        .map(([name, w]) => (
          <Leader key={name} label={t(`dates.${name}`)}>
            {shortWords(w)}
          </Leader>
        ))}
      {basis === 'daysPerNode' && !look.unknown && <p>{t('dates.wide')}</p>}
      <Fold title={t('answer.how')}>
        <Leader label={t('dates.lastN')}>{windowWords(lastN)}</Leader>
        {notes.map((m, i) => (
          <p key={i}>{say(m)}</p>
        ))}
        {dates.map(([name, w]) => (
          <div key={name}>
            <p>
              {t(`dates.${name}`)}: {kindWords(w.kind)}
            </p>
            <Sources keys={w.sources ?? []} report={report} />
          </div>
        ))}
      </Fold>
    </section>
  );
}
