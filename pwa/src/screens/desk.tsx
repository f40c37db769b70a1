// The desk's first screen: all fields in one table that can be sorted, one field beside it.
import { computed, signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { standing as standingDecision } from '../state/decision';
import { cropOf, find, isAway, planYear, rows, type FieldRow } from '../state/records';
import { mayPlan, tally } from '../state/session';
import {
  loadEngineWords,
  sayBare,
  showMoment,
  showNumber,
  showShortDate,
  t,
  type Key,
} from '../state/words';
import { acresIn, chanceRange, chanceShort, inColumn } from '../state/unit';
import { Calls, isOpenCall } from '../ui/calls';
import { RangeBar } from '../ui/chance';
import { decisionWords } from '../ui/decision';
import { FieldSearch } from '../ui/field-search';
import { Frame } from '../ui/frame';
import {
  ClassMark,
  classWords,
  cropWords,
  isTouched,
  StarterRate,
  standing,
} from '../ui/headline';
import { NewVersion } from '../ui/new-version';
import { NoFields } from '../ui/no-fields';
import { NewField } from './new-field';
import { Panel } from './panel';
import { AwayGrowers } from './put-away';

type Column =
  'grower' | 'field' | 'area' | 'crop' | 'test' | 'starter' | 'fail' | 'loss' | 'missing' | 'dig';

const sort = signal<{ by: Column; down: boolean }>({ by: 'grower', down: false });
const sought = signal('');

interface Line {
  row: FieldRow;
  standing: ReturnType<typeof standing>;
}

const values: Record<Column, (l: Line) => string | number> = {
  grower: (l) => l.row.grower?.body.name ?? '',
  field: (l) => l.row.field.body.name,
  area: (l) => (l.row.field.body.area ? acresIn(l.row.field.body.area) : -1),
  crop: (l) => cropWords(cropOf(l.row) ?? ''),
  test: (l) => l.row.test?.body.sampled ?? '',
  starter: ({ standing: { headline: h } }) => h?.starterN ?? (h ? -1 : -2), // not known, no pulse
  fail: (l) => l.standing.headline?.fail ?? -1,
  loss: (l) => l.standing.headline?.lossShare ?? -1,
  missing: (l) => l.standing.headline?.missing.length ?? -1,
  dig: (l) => l.row.lastDig?.body.date ?? '',
};

function compare(a: string | number, b: string | number): number {
  if (typeof a === 'number' && typeof b === 'number') return a - b;
  return String(a).localeCompare(String(b), undefined, { numeric: true });
}

const lines = computed<Line[]>(() => {
  const { by, down } = sort.value;
  const list = find(sought.value).map((row) => ({ row, standing: standing(row, isTouched(row)) }));
  const value = values[by];
  return list.sort((a, b) => compare(value(a), value(b)) * (down ? -1 : 1));
});

export function Desk({ id = '' }: { id?: string }) {
  useEffect(loadEngineWords, []);
  return (
    <Frame wide title={t('desk.title', { year: planYear.value })}>
      <NewVersion />
      {!id && mayPlan.value && <Calls />}
      <div class={id ? 'desk with-panel' : 'desk'}>
        <section class="desk-table" aria-label={t('nav.fields')}>
          <Tools alone={id === ''} />
          {rows.value.length > 0 ? (
            <Table chosen={id} />
          ) : (
            <NoFields />
          )}
          {mayPlan.value && <AwayGrowers />}
        </section>
        {id && <Panel key={id} id={id} />}
      </div>
    </Frame>
  );
}

/** Above the table, so that nobody scrolls past a hundred fields to add one. */
function Tools({ alone }: { alone: boolean }) {
  const { route } = useLocation();
  // Enter opens what was found first: from the keyboard a field is its name and one key away.
  const first = (event: Event) => {
    event.preventDefault();
    const found = lines.value[0];
    if (sought.value !== '' && found) route(`/field/${found.row.field.id}`);
  };
  return (
    <div class="desk-tools">
      {rows.value.length > 0 && (
        <form class="find" role="search" onSubmit={first}>
          <FieldSearch sought={sought} />
        </form>
      )}
      {alone && tally.value.lastAnswer && (
        <p class="aside">
          {t('fields.age', { when: showMoment(tally.value.lastAnswer, Date.now()) })}
        </p>
      )}
      {alone && mayPlan.value && (
        <>
          <NewField />
          {rows.value.length > 0 && (
            <a class="button" href="/order">
              {t('order.link')}
            </a>
          )}
          <a class="button" href="/outlines">
            {t('outlines.link')}
          </a>
        </>
      )}
    </div>
  );
}

const columns: readonly Column[] = [
  'grower',
  'field',
  'area',
  'crop',
  'test',
  'starter',
  'fail',
  'loss',
  'missing',
  'dig',
];

function Table({ chosen }: { chosen: string }) {
  // With a field open beside it, the table keeps what tells fields apart.
  const shown = chosen ? (['field', 'crop', 'starter', 'fail'] as const) : columns;
  return (
    <table class="fields">
      <thead>
        <tr>
          {shown.map((c) => (
            <Head key={c} column={c} />
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.value.map((l, i) => (
          <tr key={l.row.field.id} class={l.row.field.id === chosen ? 'chosen' : ''}>
            {shown.map((c) => (
              <Cell key={c} column={c} line={l} before={lines.value[i - 1]} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Head({ column }: { column: Column }) {
  const { by, down } = sort.value;
  const on = by === column;
  const turn = () => (sort.value = { by: column, down: on ? !down : false });
  return (
    <th
      scope="col"
      class={`col-${column}`}
      aria-sort={on ? (down ? 'descending' : 'ascending') : 'none'}
    >
      <button type="button" onClick={turn}>
        {t(`col.${column}` as Key)}
        {column === 'starter' && <small>{inColumn(0, 'lb/ac').unit}</small>}
        {on ? (down ? ' ↓' : ' ↑') : ''}
      </button>
    </th>
  );
}

function Cell(p: { column: Column; line: Line; before: Line | undefined }) {
  const { column, line, before } = p;
  const { grower } = line.row;
  if (column === 'field') return <FieldCell row={line.row} />;
  // One name for all the fields of a grower that stand under each other, as in a printed list.
  const again =
    column === 'grower' && sort.value.by === 'grower' && before?.row.grower?.id === grower?.id;
  return (
    <td class={`col-${column}`}>
      {before && again ? (
        <span class="hidden">{content(column, line)}</span>
      ) : (
        content(column, line)
      )}
    </td>
  );
}

function FieldCell({ row }: { row: FieldRow }) {
  return (
    <th scope="row" class="col-field">
      <a href={`/field/${row.field.id}`}>{row.field.body.name}</a>
      {isTouched(row) && <small class="quiet"> {t('state.onlyHere')}</small>}
      {isAway(row) && <small class="quiet"> {t('putAway.short')}</small>}
    </th>
  );
}

function content(column: Column, { row, standing: s }: Line) {
  const h = s.headline;
  const { area } = row.field.body;
  switch (column) {
    case 'grower':
      return row.grower?.body.name ?? '–';
    case 'area':
      return area ? `${area.value} ${area.unit}` : '–';
    case 'crop':
      return cropWords(cropOf(row) ?? '') || t('fields.noCrop');
    case 'test':
      return row.test ? showShortDate(row.test.body.sampled) : t('desk.noTest');
    case 'starter':
      return h ? <StarterRate h={h} /> : '–';
    case 'fail':
      return <Fail h={h} />;
    case 'loss':
      return <Loss h={h} />;
    case 'missing':
      return <Lacking h={h} />;
    case 'dig':
      return <LastDig row={row} h={h} />;
    default:
      return '–';
  }
}

type Head_ = Line['standing']['headline'];

function Fail({ h }: { h: Head_ }) {
  if (h?.fail === undefined) return <>–</>;
  const words = chanceRange(h.fail, h.failLow, h.failHigh);
  return (
    <>
      <span>{chanceShort(h.fail, h.failLow, h.failHigh)}</span>
      <RangeBar value={h.fail} low={h.failLow} high={h.failHigh} label={words} />
    </>
  );
}

function Loss({ h }: { h: Head_ }) {
  if (h?.lossShare === undefined) return <>–</>;
  const of100 = (v: number) => showNumber(v * 100, v < 0.1 ? 1 : 0);
  if (h.lossLow === undefined || h.lossHigh === undefined)
    return <>{t('loss.one', { value: of100(h.lossShare) })}</>;
  return (
    <>
      {t('loss.range', {
        value: of100(h.lossShare),
        low: of100(h.lossLow),
        high: of100(h.lossHigh),
      })}
    </>
  );
}

function Lacking({ h }: { h: Head_ }) {
  if (!h) return <>–</>;
  const [first, ...more] = h.missing.map(sayBare);
  if (!first) return null;
  return <>{more.length === 0 ? first : t('desk.missing', { first, n: more.length })}</>;
}

function LastDig({ row, h }: { row: FieldRow; h: Head_ }) {
  if (!row.lastDig) return <>–</>;
  const decided = standingDecision(row.field.id, planYear.value);
  return (
    <>
      {h?.digClass && (
        <>
          <ClassMark of={h.digClass} /> {classWords(h.digClass, h.digEnough)},{' '}
        </>
      )}
      <span class="whole">{showShortDate(row.lastDig.body.date)}</span>
      {isOpenCall(row) ? (
        <b class="then">{t('calls.line')}</b>
      ) : (
        decided && <span class="then">{decisionWords(decided.body)}</span>
      )}
    </>
  );
}
