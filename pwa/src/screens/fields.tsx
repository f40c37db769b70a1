// The phone's first screen: the farm's fields by grower, each with the one line that matters.
import { computed, signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { openDigs } from '../state/dig';
import { plantCount } from '../dig/draft';
import { find, inSeason, isAway, planYear, rows, view, type FieldRow } from '../state/records';
import { tally } from '../state/session';
import { keepSight } from '../state/sight';
import { opensWithWalk } from '../state/today';
import { showDate, showMoment, t, tn } from '../state/words';
import { chanceWords } from '../state/unit';
import { FieldSearch } from '../ui/field-search';
import { DecidedLine } from '../ui/decision';
import { Frame, PhoneNav } from '../ui/frame';
import { useGrowing } from '../ui/growing';
import {
  ClassMark,
  classWords,
  cropWords,
  isTouched,
  standing,
  starterWords,
} from '../ui/headline';
import { NewVersion } from '../ui/new-version';
import { NoFields } from '../ui/no-fields';

const sought = signal('');

const groups = computed(() => {
  const found = new Map<string, FieldRow[]>();
  for (const row of find(sought.value)) {
    const name = row.grower?.body.name ?? t('fields.noGrower');
    found.set(name, [...(found.get(name) ?? []), row]);
  }
  return [...found];
});

/** The groups cut off after so many lines. */
function cutOff(whole: readonly [string, FieldRow[]][], most: number): [string, FieldRow[]][] {
  const shown: [string, FieldRow[]][] = [];
  let left = most;
  for (const [grower, list] of whole) {
    if (left <= 0) break;
    shown.push([grower, list.slice(0, left)]);
    left -= list.length;
  }
  return shown;
}

export function Fields() {
  const whole = groups.value.reduce((sum, [, list]) => sum + list.length, 0);
  const { most, end } = useGrowing(whole);
  const shown = cutOff(groups.value, most);
  useEffect(() => {
    if (shown.length > 0) keepSight(!opensWithWalk.value);
  });
  return (
    <Frame title={t('fields.title', { year: planYear.value })} foot={<PhoneNav />}>
      <NewVersion />
      <OpenDigs />
      {inSeason.value && (
        <a class="button" href="/today">
          {t('fields.toWalk')}
        </a>
      )}
      <Age />
      {view.value.size > 0 && <FieldSearch sought={sought} />}
      {shown.map(([grower, list]) => (
        <section key={grower} class="group">
          <h2>{grower}</h2>
          <ul class="lines">
            {list.map((row) => (
              <FieldLine key={row.field.id} row={row} />
            ))}
          </ul>
        </section>
      ))}
      {end}
      {rows.value.length > 0 && groups.value.length === 0 && <p>{t('fields.noneFound')}</p>}
      {rows.value.length === 0 && <NoFields />}
    </Frame>
  );
}

/** How old is what I see. */
function Age() {
  const at = tally.value.lastAnswer;
  if (at === '') return null;
  return <p class="aside">{t('fields.age', { when: showMoment(at, Date.now()) })}</p>;
}

function OpenDigs() {
  const open = openDigs.value;
  if (open.length === 0) return null;
  return (
    <ul class="open-digs">
      {open.map((draft) => {
        const row = rows.value.find((r) => r.field.id === draft.field);
        const name = row?.field.body.name ?? '';
        return (
          <li key={draft.field}>
            <a class="loud" href={`/field/${draft.field}/dig`}>
              {tn('fields.resume', plantCount(draft), { field: name })}
            </a>
          </li>
        );
      })}
    </ul>
  );
}

function FieldLine({ row }: { row: FieldRow }) {
  const { headline, from } = standing(row, isTouched(row));
  const crop = row.season ? cropWords(row.season.body.crop) : t('fields.noCrop');
  return (
    <li>
      <a class="line" href={`/field/${row.field.id}`}>
        <span class="line-name">
          <b>{row.field.body.name}</b> <span class="crop">{crop}</span>
          {isAway(row) && <span class="quiet"> {t('putAway.short')}</span>}
        </span>
        {headline && <span class="line-words">{summary(row, headline)}</span>}
        <DecidedLine field={row.field.id} year={planYear.value} />
        {from === 'here' && <span class="line-words quiet">{t('result.hereShort')}</span>}
      </a>
    </li>
  );
}

function summary(row: FieldRow, h: NonNullable<ReturnType<typeof standing>['headline']>) {
  const date = row.lastDig ? showDate(row.lastDig.body.date) : '';
  return (
    <>
      {h.digClass ? (
        <span class="dig-words">
          <ClassMark of={h.digClass} />{' '}
          {t('fields.dug', { class: classWords(h.digClass, h.digEnough), date })}.{' '}
        </span>
      ) : (
        h.fail !== undefined && <span>{t('fields.fail', { chance: chanceWords(h.fail) })}. </span>
      )}
      <span>{starterWords(h)}.</span>
    </>
  );
}
