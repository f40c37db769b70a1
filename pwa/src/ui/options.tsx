// The options of a rescue call as one table at the desk: what each costs, what becomes of the crop
// and of the money, how sure that is, and until which day. Figures are the engine's.
import type { ComponentChildren } from 'preact';
import { today } from '../state/records';
import { mayPlan } from '../state/session';
import { chanceWords, inColumn } from '../state/unit';
import { say, showDate, t, tn } from '../state/words';
import type { Figure, Report, Window } from '../wire.gen';
import { windowWords } from './dates';

const msPerDay = 86_400_000;

/** Days from today to a date; 0 = today. */
export const daysTo = (date: string): number =>
  Math.round((Date.parse(date) - Date.parse(today.value)) / msPerDay);

export function leftWords(date: string): string {
  const days = daysTo(date);
  if (days < 0) return t('options.past');
  return days === 0 ? t('options.lastDay') : tn('options.left', days);
}

interface AmountProps {
  figure: Figure;
  says?: string;
  cents?: boolean;
}

/** An amount under a head with its unit; below it its range and what it is measured against. */
export function AmountCell({ figure: f, says, cents }: AmountProps) {
  if (f.value === undefined) return <td class="number">–</td>;
  const number = (v: number) => inColumn(v, f.unit, cents).number;
  const some = f.low !== undefined && f.high !== undefined && f.low !== f.high;
  const range = some ? t('options.range', { low: number(f.low ?? 0), high: number(f.high ?? 0) }) : '';
  return (
    <td class="number">
      <b>{number(f.value)}</b>
      <Under words={[range, says]} />
    </td>
  );
}

export function ChanceCell({ figure: f }: { figure: Figure }) {
  if (f.value === undefined) return <td>–</td>;
  const low = f.low === undefined ? '' : chanceWords(f.low);
  const high = f.high === undefined ? '' : chanceWords(f.high);
  const range = low === high ? '' : t('options.range', { low, high });
  return (
    <td>
      <b>{chanceWords(f.value)}</b>
      <Under words={[range]} />
    </td>
  );
}

export function UntilCell({ day }: { day: Window }) {
  if (!day.date) return <td>{day.unknown ? say(day.unknown) : '–'}</td>;
  return (
    <td>
      <b>{showDate(day.date)}</b>
      <Under words={[leftWords(day.date)]} />
    </td>
  );
}

const Under = ({ words }: { words: readonly (string | undefined)[] }) => (
  <>
    {words.filter(Boolean).map((w) => (
      <small key={w}>{w}</small>
    ))}
  </>
);

/** The unit of a column: that of the first of its figures that is known. */
export const unitOf = (...figures: Figure[]): string => {
  const known = figures.find((f) => f.value !== undefined);
  return known ? inColumn(known.value ?? 0, known.unit).unit : '';
};

export function Head({ words, unit }: { words: string; unit?: string }) {
  return (
    <th scope="col" class={unit === undefined ? '' : 'number'}>
      {words}
      {unit && <small>{unit}</small>}
    </th>
  );
}

export function OptionsTable({ report }: { report: Report }) {
  const { rescue: r, value: v } = report;
  return (
    <section>
      <table class="options-table figures">
        <caption>{t('rescue.wouldPay')}</caption>
        <thead>
          <tr>
            <td />
            <Head words={t('rescue.cost')} unit={unitOf(r.cost)} />
            <Head words={t('options.crop')} unit={unitOf(r.gain, r.lost)} />
            <Head words={t('options.money')} unit={unitOf(r.net, r.lostMoney, v.dig)} />
            <Head words={t('rescue.chance')} />
            <Head words={t('rescue.until.row')} />
          </tr>
        </thead>
        <tbody>
          <Row name={t('choice.apply')} under={rateWords(report)}>
            <AmountCell figure={r.cost} />
            <AmountCell figure={r.gain} says={t('options.back')} />
            <AmountCell figure={r.net} says={t('options.after')} />
            <ChanceCell figure={r.pays} />
            <UntilCell day={r.lastDay} />
          </Row>
          <Again report={report} />
          <Row name={t('choice.none')}>
            <td class="number">0</td>
            <AmountCell figure={r.lost} says={t('options.lost')} />
            <AmountCell figure={r.lostMoney} says={t('options.lost')} />
            <td>–</td>
            <td>–</td>
          </Row>
        </tbody>
      </table>
      {r.offered === 'whatIf' && <p>{t('rescue.whatIf')}</p>}
      <p>{t(mayPlan.value ? 'rescue.decides.yours' : 'rescue.decides')}</p>
    </section>
  );
}

interface RowProps {
  name: string;
  under?: string;
  children: ComponentChildren;
}

function Row({ name, under, children }: RowProps) {
  return (
    <tr>
      <th scope="row">
        {name}
        <Under words={[under]} />
      </th>
      {children}
    </tr>
  );
}

function rateWords({ rescue: { rate, on } }: Report): string {
  if (rate.value === undefined) return '';
  const { number, unit } = inColumn(rate.value, rate.unit);
  const words = `${number} ${unit}`;
  return on ? t('options.rateOn', { words, date: showDate(on) }) : words;
}

/** A further dig brings knowledge: it has a worth and a window, and no crop of its own. */
function Again({ report: { value: v, stage } }: { report: Report }) {
  const { visit, due } = stage.next;
  const open = visit === 'look' || visit === 'decide' || visit === 'again';
  if (!open)
    return (
      <Row name={t('choice.digAgain')}>
        <td colSpan={5}>{t('rescue.noMoreDigs')}</td>
      </Row>
    );
  return (
    <Row name={t('choice.digAgain')} under={t('rescue.knows')}>
      <td class="number">–</td>
      <td class="number">–</td>
      <AmountCell figure={v.dig} says={t('options.worth')} />
      <td>–</td>
      <td>{windowWords(due)}</td>
    </Row>
  );
}
