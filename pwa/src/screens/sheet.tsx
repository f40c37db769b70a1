// The paper that stands in for the phone: one page with the same questions as a dig, in black on
// white, blank or for one field; and the way in for what was written on it, with its own day.
import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { causes, type Judged } from '../dig/draft';
import { judgedOf, startPaperDig } from '../state/dig';
import { one, planYear, rowOf, today } from '../state/records';
import { hasKey, showDate, t, type Key } from '../state/words';
import { Cautions } from '../ui/caution';
import { TextField } from '../ui/form';
import { fieldFacts } from '../ui/headline';
import { answers } from '../ui/key';
import { Shape } from '../ui/shape';
import { NotHere } from './not-here';

/** As many as fit on the page: the spots and plants that a dig usually asks for. */
const spots = 4;
const plantsAtSpot = 5;

const ticked = ['vigour', 'nodules', 'inside', 'position'] as const;
type Group = (typeof ticked)[number] | 'count' | 'pink';

/** As the phone asks for this field: clusters to tick, or numbers to write. */
const groupsOf: Record<Judged, readonly Group[]> = {
  clusters: ticked,
  count: ['vigour', 'count', 'inside', 'position'],
  pink: ['vigour', 'count', 'pink', 'inside', 'position'],
};

/** What is ticked under a group; a number to write has one empty box. */
const boxesOf = (group: Group): readonly string[] =>
  group === 'count' || group === 'pink' ? [] : answers[group];

export const BlankSheet = () => <Page id="" />;

export function FieldSheet({ id = '' }: { id?: string }) {
  return one('field', id) ? <Page id={id} /> : <NotHere />;
}

function Page({ id }: { id: string }) {
  const judged = id ? judgedOf(id) : 'clusters';
  return (
    <div class="paper dig-sheet">
      <div class="screen-only">
        <a class="button" href={id ? `/field/${id}` : '/settings'}>
          ← {t(id ? 'nav.field' : 'nav.settings')}
        </a>
        <button type="button" class="loud" onClick={() => print()}>
          {t('paper.print')}
        </button>
      </div>
      {id && <FromPaper field={id} />}
      <main>
        <Top id={id} />
        <div class="across" tabIndex={0} role="region" aria-label={t('sheet.plants')}>
          <Plants groups={groupsOf[judged]} />
        </div>
        {!id && <p class="write">{t('sheet.soybean')}</p>}
        <div class="write-row">
          <p class="write">{t('sheet.nodes')}</p>
          <Box words={t('convention.withScale')} />
          <Box words={t('convention.trueNodes')} />
        </div>
        <Causes />
        <p class="write">{t('sheet.stand')}</p>
        <p class="write">{t('sheet.weeds')}</p>
        <p class="write">{t('sheet.note')}</p>
        <Cautions />
      </main>
    </div>
  );
}

function Top({ id }: { id: string }) {
  const field = one('field', id);
  const row = field && rowOf(field, planYear.value);
  return (
    <header class="sheet-top">
      <div>
        <h1>{field?.body.name ?? t('sheet.title')}</h1>
        {row ? (
          <p>{fieldFacts(row)}</p>
        ) : (
          <>
            <div class="write-row">
              <p class="write">{t('sheet.field')}</p>
              <p class="write">{t('sheet.grower')}</p>
            </div>
            <p class="write">{t('sheet.crop')}</p>
          </>
        )}
        <div class="write-row">
          <p class="write">{t('sheet.when')}</p>
          <p class="write">{t('sheet.who')}</p>
        </div>
        <p class="write">
          <b>{t('sheet.reentry')}</b>
        </p>
      </div>
      {field && <Shape outline={field.body.outline} label={t('sheet.outline')} />}
    </header>
  );
}

const Box = ({ words }: { words: string }) => (
  <span class="box-line">
    <span class="box" /> {words}
  </span>
);

function Plants({ groups }: { groups: readonly Group[] }) {
  const rows = Array.from({ length: spots * plantsAtSpot }, (_, i) => i);
  return (
    <table class="sheet-plants">
      <thead>
        <tr>
          <th rowSpan={2}>{t('sheet.spot')}</th>
          <th rowSpan={2}>{t('sheet.plant')}</th>
          {groups.map((g) => (
            <th key={g} {...spanOf(g)} class="group-head">
              {t(`sheet.${g}` as Key)}
            </th>
          ))}
        </tr>
        <tr>
          {groups.flatMap((g) =>
            boxesOf(g).map((a) => (
              <th key={g + a} class={a === boxesOf(g)[0] ? 'upright first' : 'upright'}>
                <span>{t(`${g}.${a || 'notCut'}` as Key)}</span>
              </th>
            )),
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((i) => (
          <tr key={i} class={i % plantsAtSpot === 0 ? 'new-spot' : ''}>
            <td>{i % plantsAtSpot === 0 ? i / plantsAtSpot + 1 : ''}</td>
            <td>{(i % plantsAtSpot) + 1}</td>
            {groups.flatMap((g) =>
              boxesOf(g).length === 0
                ? [<td key={g} class="first" />]
                : boxesOf(g).map((a) => (
                    <td key={g + a} class={a === boxesOf(g)[0] ? 'first' : ''}>
                      <span class="box" />
                    </td>
                  )),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const spanOf = (g: Group) =>
  boxesOf(g).length === 0 ? { rowSpan: 2 } : { colSpan: boxesOf(g).length };

function Causes() {
  return (
    <section>
      <h2>{t('sheet.causes')}</h2>
      <ul class="sheet-causes">
        {causes
          .filter((c) => hasKey(`suspicion.${c}`))
          .map((c) => (
            <li key={c}>
              <Box words={t('sheet.seen')} /> <Box words={t('sheet.notSeen')} />{' '}
              <b>{t(`suspicion.${c}` as Key)}</b>
            </li>
          ))}
      </ul>
    </section>
  );
}

/** What was written on paper is entered with the same taps, under the day on the sheet. */
function FromPaper({ field }: { field: string }) {
  const { route } = useLocation();
  const day = useSignal(today.value);
  const error = useSignal('');
  const go = () => {
    const oldest = `${Number(today.value.slice(0, 4)) - 1}-01-01`;
    if (!/^\d{4}-\d{2}-\d{2}$/.test(day.value) || day.value < oldest || day.value > today.value) {
      const year = (iso: string) => `${showDate(iso)} ${iso.slice(0, 4)}`;
      error.value = t('sheet.dayRange', { from: year(oldest), to: year(today.value) });
      return;
    }
    const other = startPaperDig(field, day.value);
    error.value = other ? t('sheet.otherOpen', { date: showDate(other) }) : '';
    if (!other) route(`/field/${field}/dig`);
  };
  return (
    <section class="screen-only from-paper">
      <p>{t('sheet.enterWhy')}</p>
      <TextField
        type="date"
        label={t('sheet.day')}
        value={day.value}
        error={error.value}
        onChange={(v) => (day.value = v)}
      />
      <button type="button" onClick={go}>
        {t('sheet.enter')}
      </button>
    </section>
  );
}
