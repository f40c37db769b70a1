// Rescue nitrogen in words and as options side by side. Figures are the engine's; nothing here says
// what to do: the consultant decides.
import { decisionsOf } from '../state/decision';
import { planYear } from '../state/records';
import { mayPlan } from '../state/session';
import { chanceRange } from '../state/unit';
import { say, showDate, t } from '../state/words';
import type { Figure, Report } from '../wire.gen';
import { windowWords } from './dates';
import { figureWords } from './figure';

export const isWeighed = ({ rescue: { offered } }: Report): boolean =>
  offered === 'yes' || offered === 'whatIf';

/** Classes of a dig that found too little. */
export const isShort = (digClass: string): boolean =>
  digClass === 'borderline' || digClass === 'poor' || digClass === 'none';

/** The way to the rescue call: to those who decide always, to others where there is one. */
export function RescueLink({ field, report, loud }: { field: string; report: Report; loud?: boolean }) {
  const found = report.digs.at(-1)?.class ?? '';
  const decided = decisionsOf(field, planYear.value).length > 0;
  if (!mayPlan.value && !isShort(found) && !decided) return null;
  return (
    <a class={loud ? 'loud' : 'button'} href={`/field/${field}/rescue`}>
      {t('rescue.title')}
    </a>
  );
}

/** Whether it would pay and until when, or why that cannot be said. */
export function RescueWords({ report }: { report: Report }) {
  const { offered, pays, lastDay, messages } = report.rescue;
  if (!isWeighed(report))
    return <>{messages.slice(0, 1).map((m) => <p key={m.code}>{say(m)}</p>)}</>;
  const chance =
    pays.value === undefined
      ? pays.unknown && say(pays.unknown)
      : t('rescue.pays', { chance: chanceRange(pays.value, pays.low, pays.high) });
  const until = lastDay.date
    ? t('rescue.until', { date: showDate(lastDay.date) })
    : lastDay.unknown && say(lastDay.unknown);
  return (
    <>
      <p>
        {chance} {offered === 'whatIf' ? t('rescue.whatIf') : until}
      </p>
      <p>{t(mayPlan.value ? 'rescue.decides.yours' : 'rescue.decides')}</p>
    </>
  );
}

interface Column {
  key: 'apply' | 'digAgain' | 'none';
  cost: string;
  brings: string;
  net: string;
  chance: string;
  until: string;
}

/** A figure that is not known has no row: why stands above, once. */
const words = (f: Figure): string => (f.value === undefined ? '' : figureWords(f));

function columns(report: Report): Column[] {
  const { rescue: r, value: v, stage } = report;
  const { visit, due } = stage.next;
  const again = visit === 'look' || visit === 'decide' || visit === 'again';
  const lost = words(r.lost);
  return [
    {
      key: 'apply',
      cost: words(r.cost),
      brings: words(r.gain),
      net: words(r.net),
      chance: words(r.pays),
      until: r.lastDay.date ? windowWords(r.lastDay) : '',
    },
    {
      key: 'digAgain',
      cost: '',
      brings: t(again ? 'rescue.knows' : 'rescue.noMoreDigs'),
      net: again ? words(v.dig) : '',
      chance: '',
      until: again ? windowWords(due) : '',
    },
    {
      key: 'none',
      cost: '',
      brings: lost && t('rescue.loses', { words: lost }),
      net: words(r.lostMoney),
      chance: '',
      until: '',
    },
  ];
}

const rows = ['cost', 'brings', 'net', 'chance', 'until'] as const;

/** Apply, dig again, leave it: money and dates beside each other. */
export function Options({ report }: { report: Report }) {
  const list = columns(report).filter((column) => rows.some((row) => column[row]));
  return (
    <section>
      <h2>{t('rescue.options')}</h2>
      <div class="options">
        {list.map((column) => (
          <section key={column.key} class="option">
            <h3>{t(`choice.${column.key}`)}</h3>
            <dl>
              {rows
                .filter((row) => column[row])
                .map((row) => (
                  <div key={row}>
                    <dt>{labelOf(row, column.key)}</dt>
                    <dd>{column[row]}</dd>
                  </div>
                ))}
            </dl>
          </section>
        ))}
      </div>
      {report.rescue.rate.value !== undefined && (
        <p class="aside">
          {report.rescue.on
            ? t('rescue.rateOn', {
                words: words(report.rescue.rate),
                date: showDate(report.rescue.on),
              })
            : t('rescue.rate', { words: words(report.rescue.rate) })}
        </p>
      )}
    </section>
  );
}

function labelOf(row: (typeof rows)[number], column: Column['key']): string {
  if (row === 'net') return t(`rescue.net.${column}`);
  return t(row === 'until' ? 'rescue.until.row' : `rescue.${row}`);
}
