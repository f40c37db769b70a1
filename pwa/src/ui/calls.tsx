// Fields whose last dig found too little and on which nobody has decided since: the desk sees them
// before anything else, those with the fewest days left first.
import { computed } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { standing } from '../state/decision';
import { planYear, rows, type FieldRow } from '../state/records';
import { report } from '../state/report';
import { inColumn } from '../state/unit';
import { loadEngineWords, say, showShortDate, t } from '../state/words';
import type { Report } from '../wire.gen';
import { ClassMark, classWords, cropWords, isTouched, standing as headlineOf } from './headline';
import { AmountCell, ChanceCell, UntilCell } from './options';
import { isShort, isWeighed } from './rescue';

/** Dug to the end, found short, and no decision that knows of this dig. */
export function isOpenCall(row: FieldRow): boolean {
  const { field, lastDig } = row;
  if (!lastDig) return false;
  const { headline: h } = headlineOf(row, isTouched(row));
  if (!h?.digClass || !isShort(h.digClass) || h.digEnough === 'more') return false;
  return !standing(field.id, planYear.value)?.body.digs.includes(lastDig.id);
}

interface Call {
  row: FieldRow;
  report: Report | undefined;
}

const calls = computed<Call[]>(() => {
  const list = rows.value.filter(isOpenCall).map((row) => {
    const state = report(row.field.id, planYear.value).value;
    return { row, report: state.at === 'here' ? state.evaluated.report : undefined };
  });
  const day = (c: Call) => c.report?.rescue.lastDay.date ?? '9';
  return list.sort((a, b) => day(a).localeCompare(day(b)));
});

export function Calls() {
  useEffect(loadEngineWords, []);
  const list = calls.value;
  if (list.length === 0) return null;
  const net = list.find((c) => c.report?.rescue.net.value !== undefined)?.report?.rescue.net;
  return (
    <section class="calls">
      <table class="figures">
        <caption>{t('calls.title')}</caption>
        <thead>
          <tr>
            <th scope="col">{t('col.field')}</th>
            <th scope="col">{t('col.dig')}</th>
            <th scope="col" class="number">
              {t('rescue.net.apply')}
              {net?.value !== undefined && <small>{inColumn(net.value, net.unit).unit}</small>}
            </th>
            <th scope="col">{t('rescue.chance')}</th>
            <th scope="col">{t('rescue.until.row')}</th>
          </tr>
        </thead>
        <tbody>
          {list.map((c) => (
            <Line key={c.row.field.id} {...c} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Line({ row: { field, grower, season, lastDig }, report: r }: Call) {
  const part = r?.digs.at(-1);
  const crop = season && cropWords(season.body.crop);
  return (
    <tr>
      <th scope="row">
        <a class="alone" href={`/field/${field.id}/rescue`}>
          {t('calls.open', { field: field.body.name })}
        </a>
        <small>{[crop, grower?.body.name].filter(Boolean).join(' · ')}</small>
      </th>
      <td>
        {part && (
          <>
            <ClassMark of={part.class} /> {classWords(part.class)}
          </>
        )}
        {lastDig && <small>{showShortDate(lastDig.body.date)}</small>}
      </td>
      {r && isWeighed(r) ? (
        <>
          <AmountCell figure={r.rescue.net} />
          <ChanceCell figure={r.rescue.pays} />
          <UntilCell day={r.rescue.lastDay} />
        </>
      ) : (
        <td colSpan={3}>{r ? r.rescue.messages.slice(0, 1).map(say) : t('report.waiting')}</td>
      )}
    </tr>
  );
}
