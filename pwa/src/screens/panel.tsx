// One field at the desk: answer above, what it stands on below, edited where it is shown.
import { computed } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { cropOf, one, planYear, rowOf, type FieldRow } from '../state/records';
import { mayPlan } from '../state/session';
import { report, type ReportState } from '../state/report';
import { showDate, t } from '../state/words';
import { InoculantAnswer, Missing, RiskAnswer, RotationAnswer, StarterAnswer } from '../ui/answer';
import { chanceWords } from '../state/unit';
import { isOpenCall } from '../ui/calls';
import { ThreeDates } from '../ui/dates';
import { Decided } from '../ui/decision';
import { ClassMark, cropWords, isTouched, starterWords } from '../ui/headline';
import { EntryLine } from '../ui/entry';
import { Origin } from '../ui/origin';
import { NoReport } from '../ui/no-report';
import { Reasons } from '../ui/reason';
import { RescueLink } from '../ui/rescue';
import { KeptLine } from '../ui/sync-line';
import { digWords, shareWords, Verdict } from '../ui/verdict';
import { WholeWorking } from '../ui/working';
import { Fold } from '../ui/fold';
import { FieldForm } from './field-form';
import { Passes } from './pass-form';
import { HarvestForm } from './harvest-form';
import { PlanForm } from './plan-form';
import { RotationForm } from './rotation-form';
import { SeedingForm } from './seeding-form';
import { SoilForm } from './soil-form';

export function Panel({ id }: { id: string }) {
  const field = one('field', id);
  const row = useMemo(
    () =>
      computed(() => {
        const f = one('field', id);
        return f ? rowOf(f, planYear.value) : undefined;
      }),
    [id],
  ).value;
  if (!field || !row)
    return (
      <section class="panel">
        <p>{t('notHere.words')}</p>
      </section>
    );
  return (
    <section class="panel" aria-label={field.body.name}>
      <header class="panel-head">
        <h2>{field.body.name}</h2>
        <p>
          {[row.grower?.body.name, cropWords(cropOf(row) ?? ''), planYear.value]
            .filter(Boolean)
            .join(' · ')}
        </p>
        <a class="button" href={`/field/${id}/paper`}>
          {t('panel.print')}
        </a>
        <a class="button" href="/">
          {t('panel.close')}
        </a>
        <p class="panel-short" aria-live="polite">
          {short(row)}
        </p>
        <KeptLine />
      </header>
      <EntryLine field={id} />
      <Result row={row} />
      {mayPlan.value && <Forms row={row} />}
    </section>
  );
}

/** The answer in one line; it stays in view while the plan below is edited. */
function short(row: FieldRow): string {
  const state = row.season ? report(row.field.id, planYear.value).value : undefined;
  if (state?.at !== 'here') return '';
  const h = state.evaluated.report.headline;
  const fail = h.fail === undefined ? '' : t('fields.fail', { chance: chanceWords(h.fail) });
  return [fail, starterWords(h)].filter(Boolean).join(' · ');
}

function Forms({ row }: { row: FieldRow }) {
  return (
    <>
      <SoilForm row={row} />
      <RotationForm field={row.field.id} />
      <HarvestForm field={row.field.id} />
      <PlanForm row={row} />
      <SeedingForm row={row} />
      <Passes field={row.field.id} />
      <FieldForm row={row} />
    </>
  );
}

function Result({ row }: { row: FieldRow }) {
  if (!cropOf(row)) return <p>{t('panel.noSeason', { year: planYear.value })}</p>;
  return <ResultOf row={row} state={report(row.field.id, planYear.value).value} />;
}

function ResultOf({ row, state }: { row: FieldRow; state: ReportState }) {
  if (state.at !== 'here') return <NoReport state={state} />;
  const { report: r } = state.evaluated;
  const dig = r.digs.at(-1);
  const record = row.lastDig;
  return (
    <>
      <Decided field={row.field.id} year={planYear.value} />
      {dig && record && (
        <section class="answer">
          <h3>
            {t('field.lastDig')}, {showDate(record.body.date)}
          </h3>
          <p class="key words">
            <ClassMark of={dig.class} /> {digWords(dig)}
          </p>
          <p>{shareWords(dig)}</p>
          <RescueLink field={row.field.id} report={r} loud={isOpenCall(row)} />
        </section>
      )}
      <div class="answers">
        <RiskAnswer report={r} />
        <StarterAnswer report={r} />
        <InoculantAnswer report={r} />
      </div>
      <RotationAnswer report={r} />
      <Missing report={r} />
      <Origin row={row} evaluated={state.evaluated} touched={isTouched(row)} />
      {dig && record && (
        <Fold title={t('panel.dig', { date: showDate(record.body.date) })}>
          <Verdict part={dig} report={r} />
        </Fold>
      )}
      <Fold title={t('dates.title')}>
        <ThreeDates report={r} />
      </Fold>
      <Fold title={t('field.reasons')}>
        <Reasons report={r} />
      </Fold>
      <WholeWorking report={r} />
    </>
  );
}
