// Counting the stand: on which ground, then a number for each place. The engine gives plants per
// square metre; nothing is worked out here.
import { useSignal } from '@preact/signals';
import { grown, type DigDraft, type Ground } from '../dig/draft';
import { put, turnTo } from '../state/dig';
import { planYear, seasons, settings } from '../state/records';
import { report } from '../state/report';
import { wrongIn } from '../state/running';
import { problemWords } from '../state/problem';
import { t, tn } from '../state/words';
import { figureWords } from '../ui/figure';
import { isOpen, NumberField, Picks } from '../ui/form';
import { Keypad } from '../ui/keypad';
import { tapped, useOnce } from '../ui/once';
import { groundWords } from '../ui/spot';
import type { DigPart, Problem, Quantity, Stand } from '../wire.gen';

interface Props {
  draft: DigDraft;
  part: DigPart | undefined;
}

/** The server's limit of places in one dig, and the digits of its largest count. */
const mostPlaces = 20;
const mostDigits = 3;

export function StandCount({ draft, part }: Props) {
  const ground = draft.ground;
  if (!ground) return <OnWhat draft={draft} />;
  return <Count draft={draft} part={part} ground={ground} />;
}

function Count({ draft, part, ground }: Props & { ground: Ground }) {
  const list = draft.stand ?? [];
  const typed = draft.typed ?? '';
  const type = (next: string) => put({ ...draft, typed: next });
  const undo = () => {
    if (typed !== '') type(typed.slice(0, -1));
    else put({ ...draft, stand: list.slice(0, -1) });
  };
  const full = list.length >= mostPlaces;
  const keep = () => {
    if (full) return;
    put({ ...draft, typed: '', stand: [...list, { plants: Number(typed), ...ground }] });
  };
  return (
    <>
      <div class="tally short" aria-live="polite">
        <h2 class="hidden">{t('stand.title')}</h2>
        <p>{groundWords(ground)}</p>
        <p class="count">{typed || lastOf(list) || '\u00a0'}</p>
        {list.length > 0 && <p>{full ? t('stand.full', { n: mostPlaces }) : tn('stand.places', list.length)}</p>}
        <Density draft={draft} part={part} />
      </div>
      <div class="thumb">
        <Keypad
          typed={typed}
          canUndo={typed !== '' || list.length > 0}
          full={full}
          onDigit={(d) => tapped(() => type(grown(typed, d, mostDigits)))}
          onUndo={() => tapped(undo)}
          onDone={() => tapped(keep)}
        />
        <div class="row low">
          <button
            type="button"
            onClick={() => {
              const { ground: _ground, ...rest } = draft;
              put(rest);
            }}
          >
            {t('stand.other')}
          </button>
          <button type="button" onClick={() => turnTo(draft, 'finish')}>
            {t('finish.back')}
          </button>
        </div>
      </div>
    </>
  );
}

/** So many counts stand in one line on the smallest phone; the keys stay where they are. */
const mostShown = 2;

function lastOf(list: readonly Stand[]): string {
  const words = list.slice(-mostShown).map((s) => s.plants).join(' · ');
  return list.length > mostShown ? `… ${words}` : words;
}

/** Plants per square metre as the engine gives them, and what the crop is seeded for. */
function Density({ draft, part }: Props) {
  if (!draft.stand?.length || part?.stand.value === undefined) return null;
  const state = report(draft.field, draft.cropYear).value;
  const wanted = state.at === 'here' ? state.evaluated.report.facts.stand : undefined;
  return (
    <p>
      <b>{figureWords(part.stand)}</b>
      {wanted?.value !== undefined && ` · ${t('stand.wanted', { words: figureWords(wanted) })}`}
    </p>
  );
}

const ways = ['m', 'ft', 'm2', 'ft2'] as const;
type Way = (typeof ways)[number];

/** A first size for each way; offered, and changed by whoever counts otherwise. */
const offered: Record<Way, number> = { m: 1, ft: 3, m2: 0.25, ft2: 1 };

/** The row spacing of the plan, else nothing: it is read off the drill. */
function plannedSpacing(field: string): Quantity | undefined {
  const own = seasons.value.get(field)?.find((s) => s.body.cropYear === planYear.value);
  return own?.body.rowSpacing;
}

function OnWhat({ draft }: { draft: DigDraft }) {
  const imperial = settings.value?.units !== 'metric';
  const way = useSignal<Way>(imperial ? 'ft' : 'm');
  const amount = useSignal<number | undefined>(offered[way.value]);
  const spacing = useSignal(plannedSpacing(draft.field));
  const problem = useSignal<Problem | undefined>(undefined);
  const once = useOnce();
  const unit = spacing.value?.unit ?? (imperial ? 'in' : 'cm');
  const byRow = way.value === 'm' || way.value === 'ft';
  const turn = (to: string) => {
    const next = ways.find((w) => w === to) ?? 'm';
    [way.value, amount.value, problem.value] = [next, offered[next], undefined];
  };
  const ground = groundOf(way.value, amount.value, byRow ? spacing.value : undefined);
  // Asked before anything is counted on it: the server would refuse the whole dig for its ground.
  const count = async (button: Element) => {
    if (!ground || isOpen(button.closest('.thumb'))) return;
    const found = await wrongIn({ ...draft, stand: [{ plants: 1, ...ground }] });
    problem.value = found?.field?.includes('.stand.') ? found : undefined;
    if (!problem.value) put({ ...draft, ground });
  };
  return (
    <>
      <div class="tally">
        <h2>{t('stand.title')}</h2>
        <p>{t('stand.how')}</p>
      </div>
      <div class="thumb">
        <Picks
          label={t('stand.on')}
          value={way.value}
          options={ways.map((w) => [w, t(`stand.way.${w}`)] as const)}
          onChange={turn}
        />
        <NumberField
          key={way.value}
          label={t(byRow ? 'stand.length' : 'stand.inside')}
          value={amount.value}
          unit={way.value}
          error={saidOf(problem.value, byRow ? 'row' : 'hoop')}
          onChange={(v) => ([amount.value, problem.value] = [v, undefined])}
        />
        {byRow && (
          <NumberField
            label={t('stand.spacing')}
            value={spacing.value?.value}
            unit={unit}
            error={saidOf(problem.value, 'spacing')}
            onChange={(v) => {
              spacing.value = v === undefined ? undefined : { value: v, unit };
              problem.value = undefined;
            }}
          />
        )}
        <div class="row">
          <button type="button" onClick={() => turnTo(draft, 'finish')}>
            {t('finish.back')}
          </button>
          <button
            type="button"
            class="loud"
            disabled={ground === undefined}
            onClick={({ currentTarget }) => once(() => count(currentTarget))}
          >
            {t('stand.count')}
          </button>
        </div>
      </div>
    </>
  );
}

/** What is said against a part of the ground, for its own box. */
const saidOf = (problem: Problem | undefined, part: 'row' | 'spacing' | 'hoop') =>
  problem?.field?.includes(`.${part}`) ? problemWords({ ...problem, field: part }) : undefined;

function groundOf(
  way: Way,
  amount: number | undefined,
  spacing: Quantity | undefined,
): Ground | undefined {
  if (amount === undefined || amount <= 0) return undefined;
  if (way === 'm2' || way === 'ft2') return { hoop: { value: amount, unit: way } };
  return spacing && { row: { value: amount, unit: way }, spacing };
}
