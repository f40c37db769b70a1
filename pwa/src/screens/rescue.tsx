// The rescue call: what was found, what could be done with its money and dates, and the decision.
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { decide, type Said } from '../state/decision';
import { problemWords } from '../state/problem';
import { atDesk } from '../state/place';
import { digs, one, planYear, rowOf, settings, today } from '../state/records';
import { report, type ReportState } from '../state/report';
import { mayPlan, open } from '../state/session';
import { loadEngineWords, say, showDate, t } from '../state/words';
import { MAX_DECISION_DIGS, MAX_REASON, type Problem, type Report } from '../wire.gen';
import { EntryLine } from '../ui/entry';
import { Cautions } from '../ui/caution';
import { ThreeDates } from '../ui/dates';
import { choices, Decided, Earlier, type Choice } from '../ui/decision';
import { FigureBlock, figureWords } from '../ui/figure';
import { drawn, Form, isOpen, NumberField, Picks, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { fieldFacts } from '../ui/headline';
import { NoReport } from '../ui/no-report';
import { useOnce } from '../ui/once';
import { OptionsTable } from '../ui/options';
import { isWeighed, Options, RescueWords } from '../ui/rescue';
import { KeptLine } from '../ui/sync-line';
import { useTyped } from '../ui/typed';
import { Verdict } from '../ui/verdict';
import { NotHere } from './not-here';
import { ReckonForm } from './reckon-form';

export function RescueCall({ id = '' }: { id?: string }) {
  const field = one('field', id);
  useEffect(loadEngineWords, []);
  if (!field) return <NotHere />;
  const year = planYear.value;
  return (
    <Frame
      title={atDesk.value ? t('calls.open', { field: field.body.name }) : t('rescue.title')}
      back={`/field/${id}`}
      backWords={field.body.name}
      wide={mayPlan.value}
    >
      <p class="under-title">{fieldFacts(rowOf(field, year))}</p>
      <div class={mayPlan.value ? 'weigh' : 'stack'}>
        <div class="stack">
          <Decided field={id} year={year} />
          <Weighed field={id} state={report(id, year).value} />
        </div>
        <div class="stack">
          {mayPlan.value && isWorkedOut(id, year) && <Decide field={id} year={year} />}
          <Earlier field={id} year={year} />
        </div>
      </div>
    </Frame>
  );
}

/** A crop that nobody can work out here has no call to decide. */
const isWorkedOut = (field: string, year: number): boolean => report(field, year).value.at !== 'none';

function Weighed({ field, state }: { field: string; state: ReportState }) {
  if (state.at !== 'here') return <NoReport state={state} />;
  const r = state.evaluated.report;
  return (
    <>
      <EntryLine field={field} />
      <div class="evidence">
        <Found field={field} report={r} />
        <Else report={r} />
      </div>
      {atDesk.value && isWeighed(r) ? (
        <OptionsTable report={r} />
      ) : (
        <>
          <section class="answer">
            <h2>{t('rescue.wouldPay')}</h2>
            <RescueWords report={r} />
          </section>
          <Options report={r} />
        </>
      )}
      {mayPlan.value && <ReckonForm field={field} />}
      <Beside report={r} />
      <ThreeDates report={r} />
      <Cautions report={r} seeded />
    </>
  );
}

/** The last dig with its verdict. */
function Found({ field, report: r }: { field: string; report: Report }) {
  const part = r.digs.at(-1);
  const record = part && one('dig', part.id);
  if (!part || !record) return <p>{t('rescue.noDig')}</p>;
  return (
    <div>
      <h2>
        <a class="alone" href={`/field/${field}/dug/${part.id}`}>
          {t('dug.when', { date: showDate(record.body.date) })}
        </a>
      </h2>
      <Verdict part={part} report={r} bare />
    </div>
  );
}

/** What holds a decision up, and what else was seen that could explain bare roots. */
function Else({ report: { stress } }: { report: Report }) {
  const { explains, hold } = stress;
  if (hold.length + explains.length === 0) return null;
  return (
    <div class="stack">
      {hold.length > 0 && (
        <div class="notice">
          {hold.map((m) => (
            <p key={m.code}>{say(m)}</p>
          ))}
        </div>
      )}
      {explains.length > 0 && (
        <section>
          <h3>{t('rescue.explains')}</h3>
          <ul>
            {explains.map((m) => (
              <li key={m.code}>{say(m)}</li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}

/** What must be read beside the figures, and how each was reached. */
function Beside({ report: r }: { report: Report }) {
  const { rescue: p, value: v } = r;
  const said = isWeighed(r) ? 0 : 1; // where nothing is weighed, the first stands above as the answer
  return (
    <>
      {p.messages.slice(said).map((m) => (
        <p key={m.code}>{say(m)}</p>
      ))}
      <details class="reason">
        <summary>{t('answer.how')}</summary>
        <FigureBlock label={t('part.rate')} figure={p.rate} report={r} />
        <FigureBlock label={t('part.lost')} figure={p.lost} report={r} />
        <FigureBlock label={t('part.lostMoney')} figure={p.lostMoney} report={r} />
        <FigureBlock label={t('part.gain')} figure={p.gain} report={r} />
        <FigureBlock label={t('part.cost')} figure={p.cost} report={r} />
        <FigureBlock label={t('part.net')} figure={p.net} report={r} />
        <FigureBlock label={t('part.pays')} figure={p.pays} report={r} />
        <FigureBlock label={t('part.dig')} figure={v.dig} report={r} />
      </details>
    </>
  );
}

interface Draft {
  choice: Choice | '';
  rate: number | undefined;
  product: string;
  byDay: string;
  reason: string;
}

const empty: Draft = { choice: '', rate: undefined, product: '', byDay: '', reason: '' };
const needsDay = (choice: string): boolean => ['apply', 'wait', 'digAgain'].includes(choice);

/** What is said against the draft, by the box it is said at. */
type Wrong = { readonly [box in keyof Draft | 'else']?: string };

/** What is still lacking before it can be kept. */
function lacking({ choice, rate, byDay, reason }: Draft, year: number): Wrong | undefined {
  if (choice === '') return { choice: t('decide.needChoice') };
  if (choice === 'apply' && !rate) return { rate: t('decide.needRate') };
  if (needsDay(choice) && byDay === '') return { byDay: t('decide.needDay') };
  if (needsDay(choice) && byDay < today.value) return { byDay: t('decide.dayPast') };
  if (needsDay(choice) && !byDay.startsWith(`${year}-`))
    return { byDay: t('decide.dayOfYear', { year }) };
  if (reason.trim() === '') return { reason: t('decide.needReason') };
  if (reason.length > MAX_REASON) return { reason: t('decide.longReason', { most: MAX_REASON }) };
  return undefined;
}

/** What the engine has against it: the rate stands in a box of its own. */
function refusal(problem: Problem | undefined): Wrong {
  if (!problem) return {};
  if (!problem.field?.includes('rate')) return { else: problemWords(problem) };
  return { rate: problemWords({ ...problem, field: '' }) };
}

function Decide({ field, year }: { field: string; year: number }) {
  const draft = useTyped<Draft>(`form/decide/${field}`, empty);
  const wrong = useSignal<Wrong>({});
  const title = useRef<HTMLHeadingElement>(null);
  const once = useOnce();
  const d = draft.value;
  const set = (change: Partial<Draft>) => {
    const [box] = Object.keys(change);
    if (wrong.value.else || (box && box in wrong.value)) wrong.value = {};
    draft.value = { ...draft.value, ...change };
  };
  const unit = settings.value?.units === 'metric' ? 'kg/ha' : 'lb/ac';
  const submit = async () => {
    const lacks = lacking(draft.value, year);
    wrong.value = lacks ?? {};
    if (!lacks) {
      const { kept, problem } = await decide(bodyOf(draft.value, field, year, unit));
      wrong.value = refusal(problem);
      if (kept) draft.value = empty;
    }
    void drawn().then(() => isOpen(title.current?.closest('form')));
  };
  const said = (box: keyof Wrong) => {
    const words = wrong.value[box];
    return { error: words, open: words !== undefined };
  };
  return (
    <Form onSubmit={() => once(submit)}>
      <h2 ref={title}>{t('decide.title')}</h2>
      <Picks
        label={t('decide.choice')}
        value={d.choice}
        options={choices.map((c) => [c, t(`choice.${c}`)] as const)}
        onChange={(c) => set({ choice: choices.find((x) => x === c) ?? '' })}
      />
      <Said {...said('choice')} />
      {d.choice === 'apply' && (
        <Apply draft={d} set={set} field={field} year={year} unit={unit} {...said('rate')} />
      )}
      {needsDay(d.choice) && (
        <TextField
          label={t('decide.byDay')}
          type="date"
          value={d.byDay}
          hint={d.choice === 'apply' ? payDayWords(field, year) : ''}
          {...said('byDay')}
          live
          onChange={(byDay) => set({ byDay })}
        />
      )}
      <TextField
        label={t('decide.reason')}
        value={d.reason}
        {...said('reason')}
        live
        onChange={(reason) => set({ reason })}
      />
      <Said {...said('else')} open={false} />
      <Keep />
    </Form>
  );
}

function Keep() {
  const who = open.value?.owner.person.name ?? '';
  return (
    <>
      <p class="aside">{t('decide.stays', { who, date: showDate(today.value) })}</p>
      <button type="submit" class="loud">
        {t('decide.keep')}
      </button>
      <KeptLine />
    </>
  );
}

/** What is said against something that has no box of its own. */
function Said({ error, open }: { error: string | undefined; open: boolean }) {
  if (!error) return null;
  return (
    <p class="error" role="alert" data-open={open ? '' : undefined} tabIndex={-1}>
      {error}
    </p>
  );
}

/** The last day on which it could pay, said where that day is asked. */
function payDayWords(field: string, year: number): string {
  const state = report(field, year).value;
  const date = state.at === 'here' ? state.evaluated.report.rescue.lastDay.date : undefined;
  return date ? t('decide.untilDay', { date: showDate(date) }) : '';
}

interface ApplyProps {
  draft: Draft;
  set: (change: Partial<Draft>) => void;
  error: string | undefined;
  open: boolean;
  field: string;
  year: number;
  unit: string;
}

function Apply({ draft, set, field, year, unit, error, open }: ApplyProps) {
  const state = report(field, year).value;
  const worked = state.at === 'here' ? state.evaluated.report.rescue.rate : undefined;
  const offered = worked?.value === undefined ? '' : figureWords(worked);
  return (
    <>
      <NumberField
        label={t('decide.rate')}
        value={draft.rate}
        error={error}
        open={open}
        unit={`${unit} N`}
        hint={offered === '' ? '' : t('decide.worked', { words: offered })}
        onChange={(rate) => set({ rate })}
      />
      <Picks
        label={t('decide.product')}
        value={draft.product}
        options={[
          ['urea', t('rescueProduct.urea')],
          ['uan', t('rescueProduct.uan')],
          ['', t('rescueProduct.open')],
        ]}
        onChange={(product) => set({ product })}
      />
    </>
  );
}

function bodyOf(d: Draft, field: string, cropYear: number, unit: string): Said {
  const list = digs.value.get(field) ?? [];
  const apply = d.choice === 'apply' && d.rate !== undefined;
  return {
    field,
    cropYear,
    digs: list
      .filter((r) => r.body.cropYear === cropYear)
      .sort((a, b) => a.body.date.localeCompare(b.body.date))
      .map((r) => r.id) // the last ones are what was decided on
      .slice(-MAX_DECISION_DIGS),
    choice: d.choice,
    reason: d.reason.trim(),
    ...(apply ? { rate: { value: d.rate ?? 0, unit } } : {}),
    ...(apply && d.product !== '' ? { product: d.product } : {}),
    ...(needsDay(d.choice) ? { byDay: d.byDay } : {}),
  };
}
