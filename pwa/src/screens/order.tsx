// What to order for the year: the plans of all fields added up, for the supplier.
import { useEffect } from 'preact/hooks';
import { grounds, starterPounds, starters, type Ground, type Need, type Starter } from '../state/order';
import { planYear, rows, type FieldRow } from '../state/records';
import { mayPlan } from '../state/session';
import { acresIn, inColumn } from '../state/unit';
import { loadEngineWords, t, tn } from '../state/words';
import { CROPS } from '../wire.gen';
import { optionWords } from '../ui/answer';
import { Frame } from '../ui/frame';
import { cropWords, isTouched, standing, StarterRate } from '../ui/headline';
import { NotHere } from './not-here';

interface Line extends Need {
  row: FieldRow;
}

function lines(): Line[] {
  return rows.value
    .filter(({ season }) => CROPS.some((crop) => crop === season?.body.crop))
    .map((row) => ({
      row,
      crop: row.season?.body.crop ?? '',
      area: row.field.body.area,
      headline: standing(row, isTouched(row)).headline,
    }));
}

export function Order() {
  useEffect(loadEngineWords, []);
  if (!mayPlan.value) return <NotHere />;
  const list = lines();
  return (
    <Frame wide title={t('order.title', { year: planYear.value })} back="/">
      <p>{t('order.how')}</p>
      {list.length === 0 ? (
        <p>{t('order.none')}</p>
      ) : (
        <>
          <button type="button" class="screen-only" onClick={() => print()}>
            {t('paper.print')}
          </button>
          <Inoculant list={grounds(list)} />
          <Nitrogen list={starters(list)} unknown={list.filter(isOpen).length} />
          <Fields list={list} />
          <p class="aside">{t('order.label')}</p>
        </>
      )}
    </Frame>
  );
}

const isOpen = ({ headline: h }: Need): boolean =>
  !h || h.starterDecision === 'unknown' || h.starterDecision === '';

const Head = ({ words, unit }: { words: string; unit?: string }) => (
  <th scope="col" class={unit === undefined ? '' : 'number'}>
    {words}
    {unit && <small>{unit}</small>}
  </th>
);

/** A sum in the person's units; what stands in no area is said beside it. */
function Sum({ value, unit, unsized = 0 }: { value: number; unit: string; unsized?: number }) {
  return (
    <td class="number">
      {inColumn(value, unit).number}
      {unsized > 0 && <small>{tn('order.unsized', unsized)}</small>}
    </td>
  );
}

const unitOf = (unit: string): string => inColumn(0, unit).unit;

function Inoculant({ list }: { list: readonly Ground[] }) {
  return (
    <table class="figures sums">
      <caption>{t('answer.inoculant')}</caption>
      <thead>
        <tr>
          <Head words={t('crop')} />
          <Head words={t('answer.inoculant')} />
          <Head words={t('nav.fields')} unit="" />
          <Head words={t('col.area')} unit={unitOf('ac')} />
        </tr>
      </thead>
      <tbody>
        {list.map((g) => (
          <tr key={`${g.crop}/${g.option}`}>
            <th scope="row">{cropWords(g.crop)}</th>
            <td>{optionWords(g.option)}</td>
            <td class="number">{g.fields}</td>
            <Sum value={g.acres} unit="ac" unsized={g.unsized} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Nitrogen({ list, unknown }: { list: readonly Starter[]; unknown: number }) {
  return (
    <section>
      {list.length > 0 ? (
        <table class="figures sums">
          <caption>{t('answer.starter')}</caption>
          <thead>
            <tr>
              <Head words={t('order.decision')} />
              <Head words={t('nav.fields')} unit="" />
              <Head words={t('col.area')} unit={unitOf('ac')} />
              <Head words={t('order.nitrogen')} unit={unitOf('lb')} />
            </tr>
          </thead>
          <tbody>
            {list.map((s) => (
              <tr key={s.decision}>
                <th scope="row">{t(`decision.${s.decision}`)}</th>
                <td class="number">{s.fields}</td>
                <Sum value={s.acres} unit="ac" unsized={s.unsized} />
                <Sum value={s.pounds} unit="lb" />
              </tr>
            ))}
          </tbody>
        </table>
      ) : (
        <p>{t('order.noStarter')}</p>
      )}
      {unknown > 0 && <p class="aside">{tn('order.unknown', unknown)}</p>}
    </section>
  );
}

function Fields({ list }: { list: readonly Line[] }) {
  return (
    <div class="across" tabIndex={0} role="region" aria-label={t('order.fields')}>
      <table class="figures each">
        <caption>{t('order.fields')}</caption>
        <thead>
          <tr>
            <Head words={t('col.field')} />
            <Head words={t('crop')} />
            <Head words={t('col.area')} unit={unitOf('ac')} />
            <Head words={t('answer.inoculant')} />
            <Head words={t('answer.starter')} unit={unitOf('lb/ac')} />
            <Head words={t('order.nitrogen')} unit={unitOf('lb')} />
          </tr>
        </thead>
        <tbody>
          {list.map((line) => (
            <FieldLine key={line.row.field.id} line={line} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function FieldLine({ line }: { line: Line }) {
  const { row, crop, area, headline: h } = line;
  const pounds = starterPounds(line);
  const planned = (row.season?.body.inoculants?.length ?? 0) > 0;
  return (
    <tr>
      <th scope="row">
        <a class="alone" href={`/field/${row.field.id}`}>
          {row.field.body.name}
        </a>
        <small>{row.grower?.body.name}</small>
      </th>
      <td>{cropWords(crop)}</td>
      {area ? <Sum value={acresIn(area)} unit="ac" /> : <td class="number">–</td>}
      <td>
        {optionWords(h?.option || 'unknown')}
        <small>{t(planned ? 'order.planned' : 'order.advised')}</small>
      </td>
      <td class="number">
        {h ? <StarterRate h={h} /> : t('decision.unknown')}
      </td>
      {pounds ? <Sum value={pounds} unit="lb" /> : <td class="number">–</td>}
    </tr>
  );
}
