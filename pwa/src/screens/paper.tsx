// One page for the grower: what was decided, why, what it costs, how sure we are. Black on white.
import { useEffect } from 'preact/hooks';
import { one, planYear, rowOf, settings, today, type FieldRow } from '../state/records';
import { problemWords } from '../state/problem';
import { report, type ReportState } from '../state/report';
import { open } from '../state/session';
import { loadEngineWords, say, showDate, t, type Key } from '../state/words';
import type { Figure, Option, Report } from '../wire.gen';
import { chosen, InoculantAnswer, optionWords, RiskAnswer, StarterAnswer } from '../ui/answer';
import { Cautions } from '../ui/caution';
import { Decided } from '../ui/decision';
import { FigureBlock, Leader, workWords } from '../ui/figure';
import { ClassMark, cropWords } from '../ui/headline';
import { AmountCell, ChanceCell, Head, unitOf } from '../ui/options';
import { digWords, shareWords } from '../ui/verdict';
import { NotHere } from './not-here';

export function Paper({ id = '' }: { id?: string }) {
  const field = one('field', id);
  useEffect(loadEngineWords, []);
  if (!field) return <NotHere />;
  const row = rowOf(field, planYear.value);
  const state = report(id, planYear.value).value;
  return (
    <div class="paper">
      <header class="screen-only">
        <a class="button" href={`/field/${id}`}>
          ← {t('nav.field')}
        </a>
        <button
          type="button"
          class="loud"
          disabled={state.at === 'waiting'}
          onClick={() => print()}
        >
          {t('paper.print')}
        </button>
      </header>
      <main>
        <Top row={row} />
        {state.at === 'here' && row.season ? (
          <Body row={row} report={state.evaluated.report} />
        ) : (
          <p>{noneWords(row, state)}</p>
        )}
        <Cautions report={state.at === 'here' ? state.evaluated.report : undefined} />
        {state.at === 'here' && <PaperSources report={state.evaluated.report} />}
      </main>
    </div>
  );
}

/** Why the page is empty; while the answer is still being worked out, only that. */
function noneWords(row: FieldRow, state: ReportState): string {
  if (!row.season) return t('paper.none');
  if (state.at === 'failed') return t('report.failed', { why: state.message });
  if (state.at === 'none') return t('report.none', { why: problemWords(state.problem) });
  return t('report.waiting');
}

function Top({ row }: { row: FieldRow }) {
  const { area } = row.field.body;
  const crop = row.season ? cropWords(row.season.body.crop) : '';
  const facts = [
    row.grower?.body.name,
    area && `${area.value} ${area.unit}`,
    crop,
    t('paper.year', { year: planYear.value }),
  ];
  return (
    <header>
      <h1>{row.field.body.name}</h1>
      <p>{facts.filter(Boolean).join(' · ')}</p>
      <p>
        {t('paper.by', {
          who: open.value?.owner.person.name ?? '',
          account: open.value?.owner.accountName ?? '',
          date: `${showDate(today.value)} ${today.value.slice(0, 4)}`,
        })}
      </p>
    </header>
  );
}

function Body({ row, report: r }: { row: FieldRow; report: Report }) {
  const option = chosen(r);
  return (
    <>
      <Decided field={row.field.id} year={planYear.value} />
      <Dug row={row} report={r} />
      <div class="answers">
        <StarterAnswer report={r} />
        <InoculantAnswer report={r} />
        <RiskAnswer report={r} />
      </div>
      <section>
        <h2>{t('paper.why')}</h2>
        <Why row={row} report={r} />
      </section>
      {option && <Money report={r} />}
    </>
  );
}

/** In June the roots are the answer: what was found stands above what was planned. */
function Dug({ row: { lastDig }, report: r }: { row: FieldRow; report: Report }) {
  const part = r.digs.find((d) => d.id === lastDig?.id);
  if (!lastDig || !part) return null;
  return (
    <section class="answer">
      <h2>{t('paper.dig', { date: showDate(lastDig.body.date) })}</h2>
      <p class="key words">
        <ClassMark of={part.class} /> {digWords(part)}
      </p>
      <p>{shareWords(part)}</p>
    </section>
  );
}

function Why({ row, report: r }: { row: FieldRow; report: Report }) {
  const { test } = row;
  return (
    <>
      <Leader label={t('soil.title')}>
        {test ? showDate(test.body.sampled) : t('desk.noTest')}
      </Leader>
      <FigureBlock label={t('reason.to12')} figure={plainOf(r.nitrogen.to12in)} report={r} />
      <FigureBlock label={t('reason.supply')} figure={plainOf(r.nitrogen.supplyShare)} report={r} />
      {r.missing.length > 0 && (
        <p>
          {t('answer.missing')}: {r.missing.map(say).join(' ')}
        </p>
      )}
    </>
  );
}

/** A figure without its working: paper has one page. */
function plainOf(f: Report['rhizobia']['now']): Report['rhizobia']['now'] {
  const { steps: _steps, sources: _sources, ...rest } = f;
  return rest;
}

const lossOf = (o: Option): Figure =>
  o.lossMoney.value === undefined ? o.lossYield : o.lossMoney;

function Money({ report: r }: { report: Report }) {
  const list = r.inoculation.options.filter((o) => o.key !== 'none' && !o.notAllowed);
  const priced = list.some((o) => o.cost.value !== undefined);
  return (
    <section>
      <h2>{t('paper.compare')}</h2>
      <div class="across" tabIndex={0} role="region" aria-label={t('paper.compare')}>
        <table class="figures">
          <thead>
            <tr>
              <Head words={t('answer.inoculant')} />
              <Head words={t('reason.fail')} />
              {priced && <Head words={t('part.cost')} unit={unitOf(...list.map((o) => o.cost))} />}
              <Head
                words={settings.value?.currency === '' ? '' : t('reason.lossMoney')}
                unit={unitOf(...list.map(lossOf))}
              />
            </tr>
          </thead>
          <tbody>
            {list.map((o) => (
              <tr key={o.key}>
                <th scope="row">{optionWords(o.key)}</th>
                <ChanceCell figure={o.fail} />
                {priced && <AmountCell figure={o.cost} cents />}
                <AmountCell figure={lossOf(o)} />
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** The sources of the figures that stand on the page; the whole list is on the screen. */
function shownSources(r: Report): Set<string> {
  const option = chosen(r);
  const starter = r.starter.chosen === 'practice' ? r.starter.practice : r.starter.published;
  const figures = [
    starter.rate,
    starter.withProduct,
    r.nitrogen.to12in,
    r.nitrogen.supplyShare,
    option?.fail,
    option?.lossMoney,
    option?.lossYield,
    r.digs.at(-1)?.share,
  ];
  return new Set(figures.flatMap((f) => f?.sources ?? []));
}

function PaperSources({ report: r }: { report: Report }) {
  const shown = shownSources(r);
  return (
    <section class="paper-sources">
      <h2>{t('paper.sources')}</h2>
      <p>
        {r.sources
          .filter((s) => shown.has(s.key))
          .map((s) => `${workWords(s)} (${t(`kind.${s.kind}` as Key)})`)
          .join('; ')}
      </p>
      <p>
        {t('about.models')} {t('paper.engine', { version: r.engineVersion })}
      </p>
    </section>
  );
}
