// One field on the phone: the answer, what was dug, the reasons, the years before.
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { momentWords } from '../state/clock';
import { openDigs, startDig } from '../state/dig';
import { entryOf } from '../state/entry';
import { plantCount } from '../dig/draft';
import { one, planYear, rowOf, seasons, digs, type FieldRow } from '../state/records';
import { report, type ReportState } from '../state/report';
import type { Report } from '../wire.gen';
import { loadEngineWords, showDate, t, tn } from '../state/words';
import { InoculantAnswer, Missing, RiskAnswer, RotationAnswer, StarterAnswer } from '../ui/answer';
import { Cautions } from '../ui/caution';
import { ThreeDates } from '../ui/dates';
import { Decided } from '../ui/decision';
import { EntryLine } from '../ui/entry';
import { Fold } from '../ui/fold';
import { Frame } from '../ui/frame';
import { ClassMark, cropWords, fieldFacts, isTouched } from '../ui/headline';
import { Reasons } from '../ui/reason';
import { Origin } from '../ui/origin';
import { NoReport } from '../ui/no-report';
import { RescueLink } from '../ui/rescue';
import { digWords, shareWords } from '../ui/verdict';
import { WholeWorking } from '../ui/working';
import { NotHere } from './not-here';

export function FieldScreen({ id = '' }: { id?: string }) {
  const field = one('field', id);
  useEffect(loadEngineWords, []);
  if (!field) return <NotHere />;
  const row = rowOf(field, planYear.value);
  const state = row.season ? report(id, planYear.value).value : undefined;
  return (
    <Frame title={field.body.name} back="/" foot={<DigButton field={id} />}>
      <p class="under-title">{fieldFacts(row)}</p>
      <EntryLine field={id} />
      <a class="button" href={`/field/${id}/walk`}>
        {t('walk.link')}
      </a>
      {state ? (
        <Answer row={row} state={state} />
      ) : (
        <p>{t('field.noSeason', { year: planYear.value })}</p>
      )}
      {state?.at !== 'waiting' && <Rest field={id} state={state} />}
    </Frame>
  );
}

/** What stands below the answer; it comes with it, so that nothing moves under a thumb. */
function Rest({ field, state }: { field: string; state: ReportState | undefined }) {
  return (
    <>
      <History field={field} />
      <Digs field={field} />
      <p class="row">
        <a class="button" href={`/field/${field}/pass`}>
          {t('field.passes')}
        </a>
        <a class="button" href={`/field/${field}/seeding`}>
          {t('field.seeding')}
        </a>
        <a class="button" href={`/field/${field}/sheet`}>
          {t('sheet.link')}
        </a>
      </p>
      <Cautions report={state?.at === 'here' ? state.evaluated.report : undefined} />
    </>
  );
}

function Answer({ row, state }: { row: FieldRow; state: ReportState }) {
  if (state.at !== 'here') return <NoReport state={state} />;
  const r = state.evaluated.report;
  return (
    <>
      <Decided field={row.field.id} year={planYear.value} />
      <LastDig row={row} report={r} />
      <ThreeDates report={r} />
      <RiskAnswer report={r} />
      <StarterAnswer report={r} />
      <InoculantAnswer report={r} />
      <RotationAnswer report={r} />
      <Missing report={r} />
      <Origin row={row} evaluated={state.evaluated} touched={isTouched(row)} />
      <h2>{t('field.reasons')}</h2>
      <Reasons report={r} />
      <WholeWorking report={r} />
    </>
  );
}

/** In June the last dig is the answer; it stands first. */
function LastDig({ row, report: r }: { row: FieldRow; report: Report }) {
  const dig = row.lastDig;
  const part = r.digs.find((d) => d.id === dig?.id);
  if (!dig || !part) return null;
  return (
    <section class="answer">
      <h2>
        {t('field.lastDig')}, {showDate(dig.body.date)}
      </h2>
      <p class="key words">
        <ClassMark of={part.class} /> {digWords(part)}
      </p>
      <p>{shareWords(part)}</p>
      <p>
        <a class="alone" href={`/field/${row.field.id}/dug/${dig.id}`}>
          {t('answer.how')}
        </a>
      </p>
      <RescueLink field={row.field.id} report={r} />
    </section>
  );
}

/** The one loud thing: start digging, or go on where it was left. */
function DigButton({ field }: { field: string }) {
  const { route } = useLocation();
  const draft = openDigs.value.find((d) => d.field === field);
  const go = () => {
    startDig(field);
    route(`/field/${field}/dig`);
  };
  const entry = entryOf(field).value;
  if (!draft && entry?.state === 'closed') {
    return <p class="keep-out-words">{t('entry.closed', { when: momentWords(entry.until) })}</p>;
  }
  return (
    <button class="loud" type="button" disabled={!draft && !entry} onClick={go}>
      {draft ? tn('field.resume', plantCount(draft)) : t('field.dig')}
    </button>
  );
}

function History({ field }: { field: string }) {
  const list = [...(seasons.value.get(field) ?? [])].sort(
    (a, b) => b.body.cropYear - a.body.cropYear,
  );
  if (list.length === 0) return null;
  return (
    <Fold title={t('field.history')}>
      <table>
        <thead>
          <tr>
            <th>{t('year')}</th>
            <th>{t('crop')}</th>
            <th>{t('history.seen')}</th>
          </tr>
        </thead>
        <tbody>
          {list.map((s) => (
            <tr key={s.id}>
              <td>{s.body.cropYear}</td>
              <td>{cropWords(s.body.crop)}</td>
              <td>{seen(s.body.inoculated, s.body.nodulation)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Fold>
  );
}

function seen(inoculated: boolean | undefined, nodulation: string | undefined): string {
  const words = [];
  if (inoculated !== undefined)
    words.push(t(inoculated ? 'history.inoculated' : 'history.notInoculated'));
  if (nodulation === 'good') words.push(t('history.good'));
  if (nodulation === 'poor') words.push(t('history.poor'));
  return words.join(', ');
}

function Digs({ field }: { field: string }) {
  const list = [...(digs.value.get(field) ?? [])].sort((a, b) =>
    b.body.date.localeCompare(a.body.date),
  );
  if (list.length === 0) return null;
  const parts = report(field, planYear.value).value;
  const partOf = (id: string) =>
    parts.at === 'here' ? parts.evaluated.report.digs.find((d) => d.id === id) : undefined;
  return (
    <section>
      <h2>{t('field.digs')}</h2>
      <ul class="lines">
        {list.map((d) => {
          const found = partOf(d.id);
          return (
            <li key={d.id}>
              <a class="line" href={`/field/${field}/dug/${d.id}`}>
                <span class="line-name">
                  <b>{showDate(d.body.date)}</b>
                </span>
                <span class="line-words">
                  {found && (
                    <>
                      <ClassMark of={found.class} /> {digWords(found)}
                    </>
                  )}
                  {d.pending && <span class="quiet"> {t('state.onlyHere')}</span>}
                </span>
              </a>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
