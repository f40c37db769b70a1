// Digging, plant by plant. Everything to tap lies in the lower part of the screen, under the
// thumb; the upper part only shows. Each tap is on the disk at once.
import { signal } from '@preact/signals';
import { useCallback, useEffect } from 'preact/hooks';
import {
  digit,
  isBlank,
  isNumber,
  mostPlants,
  mostSpots,
  nextSpot,
  plantCount,
  spotIsFull,
  stepOf,
  tap,
  undo,
  untyped,
  type DigDraft,
} from '../dig/draft';
import { newId } from '../id';
import { drafts, leaveDig, put, resumeDig, turnTo } from '../state/dig';
import type { Entry } from '../state/entry';
import { one, today } from '../state/records';
import { running } from '../state/running';
import { loadEngineWords, showDate, t, tn, within, type Key } from '../state/words';
import { EntryNotice } from '../ui/entry';
import { KeptLine } from '../ui/sync-line';
import { Lesson } from '../ui/drawing';
import { Keys } from '../ui/key';
import { NumberKeys } from '../ui/number-keys';
import { tapped } from '../ui/once';
import { RangeBar } from '../ui/chance';
import { ClassMark } from '../ui/headline';
import { enoughWords, plantResult, shareWords } from '../ui/verdict';
import type { DigPart, DigSpot } from '../wire.gen';
import { NotHere } from './not-here';

const id7 = (): string => newId(Date.now());

function answer(field: string, key: string): void {
  tapped(() => {
    const draft = drafts.peek().get(field);
    if (draft && !spotIsFull(draft)) put(tap(draft, key, id7));
  });
}

/** `closed`: nobody is to be in this field; what is open stays open. */
export function DigScreen({ id = '', closed }: { id?: string; closed?: Entry | undefined }) {
  const field = one('field', id);
  const draft = drafts.value.get(id);
  useEffect(() => {
    loadEngineWords();
    void import('./dig-page').then((found) => (others.value = found));
    if (field) resumeDig(id);
    return () => leaveDig(id);
  }, [id, field === undefined]);
  if (!field) return <NotHere />;
  if (!draft) return null;
  const part = running(id).value;
  return (
    <div class="dig">
      <header class="head">
        <a class="back" href={`/field/${id}`}>
          <span>←&nbsp;{field.body.name}</span>
        </a>
        <KeptLine />
      </header>
      <main class="dig-main">
        <h1 class="hidden">{t('dig.title', { field: field.body.name })}</h1>
        {closed && <EntryNotice entry={{ ...closed, why: [] }} clock={false} />}
        <PageOf draft={draft} part={part} />
      </main>
    </div>
  );
}

/** The other pages of a dig, once they are here. */
const others = signal<typeof import('./dig-page') | undefined>(undefined);

function PageOf({ draft, part }: CountingProps) {
  const page = draft.page ?? 'count';
  if (page !== 'count') {
    const Other = others.value?.DigPage;
    return Other ? <Other page={page} draft={draft} part={part} /> : null;
  }
  return (
    <>
      <Tally draft={draft} part={part} />
      <div class="thumb">
        <Counting draft={draft} part={part} />
      </div>
    </>
  );
}

/** What has been counted so far: to be read at arm's length. */
function Tally({ draft, part }: { draft: DigDraft; part: DigPart | undefined }) {
  const spotNo = Math.max(1, draft.spots.length);
  const inSpot = draft.spots.at(-1)?.plants.length ?? 0;
  const inPlant = draft.plant.vigour !== undefined ? ' in-plant' : '';
  const inNumber = isNumber(stepOf(draft.plant, draft.judged)) ? ' in-number' : '';
  const where = { spot: spotNo, plant: Math.min(inSpot + 1, mostPlants) };
  return (
    <div
      class={`tally${inPlant}${inNumber}`}
      aria-live="polite"
      data-plants={plantCount(draft)} // no longer on the screen as so many marks: proofs count it
    >
      <p class="where">{t(spotNo < mostSpots ? 'dig.where' : 'dig.whereLast', where)}</p>
      <OtherDay draft={draft} />
      {part && part.counted > 0 ? (
        <>
          <p class="count sum">
            {t('dig.count', { adequate: part.adequate, counted: part.counted })}
            <small>{t('dig.enough')}</small>
          </p>
          <div class="between">
            <RangeBar
              value={part.share.value ?? 0}
              low={part.share.low}
              high={part.share.high}
              label={shareWords(part)}
            />
            <p class="enough">{enoughWords(part)}</p>
          </div>
        </>
      ) : (
        <p class="enough">
          {plantCount(draft) === 0 ? t('dig.first') : tn('dig.plants', plantCount(draft))}
        </p>
      )}
      <Marks spots={draft.spots} part={part} />
      <InHand draft={draft} />
      {plantCount(draft) === 0 && draft.plant.vigour === undefined && (
        <Lesson
          crown={t('lesson.crown')}
          lateral={t('lesson.side')}
          nodule={t('lesson.nodule')}
          label={t('lesson.label')}
        />
      )}
    </div>
  );
}

/** A dig counts for the day on which it was begun: said where that is not today. */
function OtherDay({ draft: { date, paper } }: { draft: DigDraft }) {
  if (date === today.value) return null;
  return <p class="between">{t(paper ? 'dig.fromPaper' : 'dig.otherDay', { date: showDate(date) })}</p>;
}

interface MarksProps {
  spots: readonly DigSpot[];
  part: DigPart | undefined;
}

/** So many marks, and so many spots in figures, stand side by side on the smallest phone. */
const mostMarks = 10;
const mostBefore = 4;

/**
 * A mark for each of the last plants of the spot in hand, and of the last spots before how many
 * had enough: patchiness shows before it is computed, and however long a dig is, the keys stay
 * where they are.
 */
function Marks({ spots, part }: MarksProps) {
  let from = 0;
  const dug = spots.map(({ plants }) => {
    const results = part?.plantResults.slice(from, (from += plants.length)) ?? [];
    return { plants: plants.length, results: results.map((r) => plantResult(r.result, part)) };
  });
  const here = dug.pop();
  const before = dug.slice(-mostBefore).filter((spot) => spot.plants > 0);
  const first = dug.length - before.length + 1;
  const judged = part !== undefined && part.class !== 'tooEarly';
  return (
    <dl class="marks">
      {judged && before.length > 0 && (
        <div class="marks-row between">
          <dt>{t('dig.spot', { n: before.length === 1 ? first : `${first}–${dug.length}` })}</dt>
          <dd>{before.map(shareOf).join('\u00a0· ')}</dd>
        </div>
      )}
      {here && here.plants > 0 && (
        <SpotMarks n={spots.length} plants={here.plants} marks={here.results.join(' ')} />
      )}
    </dl>
  );
}

/** "9/10": plants with enough among those of a spot that count; it may be too early for others. */
function shareOf({ results }: { results: string[] }): string {
  const counted = results.filter((result) => result !== 'notYet');
  return `${counted.filter((result) => result === 'adequate').length}/${counted.length}`;
}

/** The marks of one spot, in words of the engine; plants without one are still being judged. */
function SpotMarks({ n, plants, marks }: { n: number; plants: number; marks: string }) {
  const results = marks.split(' ');
  const first = Math.max(0, plants - mostMarks);
  return (
    <div class="marks-row">
      <dt>{t('dig.spot', { n })}</dt>
      <dd>
        {Array.from({ length: plants - first }, (_, i) => {
          const result = results[first + i];
          return result ? (
            <span key={first + i}>
              <ClassMark of={result} />
              <span class="hidden">{t(`plant.${result}` as Key)}</span>
            </span>
          ) : (
            <span key={first + i} class="mark-open" />
          );
        })}
      </dd>
    </div>
  );
}

/**
 * What has been answered for the plant in hand. A number has its line before its first digit, so
 * that no key moves under the finger that types it.
 */
function InHand({ draft }: { draft: DigDraft }) {
  const { vigour, nodules, inside, count, pink, typed } = draft.plant;
  const asked = isNumber(stepOf(draft.plant, draft.judged));
  const words = [
    vigour && t(`vigour.${vigour}` as Key),
    nodules && t('dig.clusters', { n: within(t(`nodules.${nodules}` as Key)) }),
    count !== undefined && tn('dig.nodules', count),
    pink !== undefined && t('dig.pink', { n: pink }),
    inside !== undefined && t(`inside.${inside || 'notCut'}` as Key),
  ].filter((word) => typeof word === 'string');
  const said = words.map(within).join('\u00a0· '); // a line never begins with the point
  return (
    <>
      {words.length > 0 && <p class="in-hand">{t('dig.inHand', { words: said })}</p>}
      {asked && <p class="count">{typed || '\u00a0'}</p>}
    </>
  );
}

interface CountingProps {
  draft: DigDraft;
  part: DigPart | undefined;
}

function Counting({ draft, part }: CountingProps) {
  const { field } = draft;
  const step = stepOf(draft.plant, draft.judged);
  const onKey = useCallback((key: string) => answer(field, key), [field]);
  if (spotIsFull(draft))
    return (
      <>
        <h2 class="ask">{t('dig.spotFull', { n: mostPlants })}</h2>
        <Moves draft={draft} part={part} />
      </>
    );
  return (
    <>
      <h2 class="ask">{t(`ask.${step}` as Key)}</h2>
      {isNumber(step) ? (
        <NumberKeys
          plant={draft.plant}
          step={step}
          canUndo={draft.past.length > 0}
          onDigit={(key) => tapped(() => put(digit(draft, key)))}
          onUndo={() => tapped(() => put(undo(draft)))}
          onAgain={() => put(untyped(draft))}
          onDone={onKey}
        />
      ) : (
        <>
          <Keys step={step} onKey={onKey} />
          <Moves draft={draft} part={part} />
        </>
      )}
    </>
  );
}

/** What else can be done between two answers. */
function Moves({ draft, part }: CountingProps) {
  const enough = part !== undefined && part.enough !== 'more';
  const spotEmpty = (draft.spots.at(-1)?.plants.length ?? 0) === 0;
  return (
    <div class="row">
      <button
        type="button"
        disabled={draft.past.length === 0}
        onClick={() => tapped(() => put(undo(draft)))}
      >
        {t('dig.undo')}
      </button>
      <button
        type="button"
        disabled={draft.spots.length === 0}
        onClick={() => turnTo(draft, 'note')}
      >
        {t('dig.note')}
      </button>
      <button
        type="button"
        disabled={spotEmpty || draft.spots.length >= mostSpots}
        onClick={() => tapped(() => put(nextSpot(draft, id7())))}
      >
        {t('dig.nextSpot')}
      </button>
      <button
        type="button"
        class={enough ? 'loud' : ''}
        disabled={isBlank(draft)}
        onClick={() => turnTo(draft, 'finish')}
      >
        {t('dig.finish')}
      </button>
    </div>
  );
}
