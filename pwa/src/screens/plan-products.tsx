// The inoculants and the fertilizers of a plan. One that has been added is kept once what it cannot be
// without is said, not before: an entry made up by the form would change the answers above it.
import type { Fertilizer, Inoculant, Season } from '../wire.gen';
import type { Change } from '../state/edit';
import { showUnit, t } from '../state/words';
import { useAdded, type PutList } from '../ui/added';
import { Amount } from '../ui/amount';
import { Act, Choice, choices, NumberField } from '../ui/form';
import type { Answer } from '../ui/refusal';

export const placements = ['seedRow', 'sideBand', 'pairedRow', 'twinKnife', 'midRow'] as const;
/** What each is rated by, as soil tests and guides do. */
const products: { readonly [product: string]: string } = {
  map: 'P₂O₅',
  ammoniumSulphate: 'S',
  urea: 'N',
  uan: 'N',
  coatedUrea: 'N',
};
const forms = ['liquid', 'peat', 'granular'] as const;
const states = ['good', 'expired', 'frozen', 'overheated'] as const;

export const inoculantsOf =
  (put: (change: Change<Season>) => Answer): PutList<Inoculant> =>
  (change) =>
    put((now) => ({ inoculants: change(now.inoculants ?? []) }));

export const fertilizersOf =
  (put: (change: Change<Season>) => Answer): PutList<Fertilizer> =>
  (change) =>
    put((now) => ({ fertilizers: change(now.fertilizers ?? []) }));

/** An entry with some values set; undefined takes one away. */
function merged<T extends object>(old: T, change: { [K in keyof T]?: T[K] | undefined }): T {
  const next: Record<string, unknown> = { ...old, ...change };
  for (const [name, value] of Object.entries(next)) if (value === undefined) delete next[name];
  return next as T;
}

interface ListProps<T> {
  list: readonly T[];
  put: PutList<T>;
}

type Some<T> = { [K in keyof T]?: T[K] | undefined };

/** What a line of a list does: it sets values, and it takes itself out. */
interface LineProps<T> {
  body: Some<T>;
  set: (change: Some<T>) => Answer;
  out: () => Answer;
}

/** The lines of a list, and one more that is being added. */
function useLines<T extends Some<T>>({ list, put }: ListProps<T>, isWhole: (x: Some<T>) => x is T) {
  const { row, fill } = useAdded<Some<T>, T>({ at: list.length, put, isWhole });
  const lines: LineProps<T>[] = list.map((body, i) => ({
    body,
    set: (change) => put((now) => now.map((x, j) => (i === j ? merged<T>(x, change) : x))),
    out: () => put((now) => now.filter((_, j) => j !== i)),
  }));
  if (row.value)
    lines.push({
      body: row.value,
      set: (change) => fill((x) => merged<Some<T>>(x, change)),
      out: () => void (row.value = undefined),
    });
  return { lines, open: row.value !== undefined, add: () => void (row.value = {}) };
}

/** The button that adds a line, or what the open one still lacks. */
function More({ open, add, words, lacks }: { open: boolean; add: () => void; words: string; lacks: string }) {
  return open ? (
    <p class="aside">{lacks}</p>
  ) : (
    <button type="button" onClick={add}>
      {words}
    </button>
  );
}

export function Inoculants(p: ListProps<Inoculant>) {
  const { lines, open, add } = useLines(p, (x): x is Inoculant => x.form !== undefined);
  return (
    <>
      <h4>{t('plan.inoculants')}</h4>
      {lines.map((line, i) => (
        <OneInoculant key={i} {...line} />
      ))}
      <More open={open} add={add} words={t('plan.addInoculant')} lacks={t('plan.inoculantOpen')} />
    </>
  );
}

function OneInoculant({ body: x, set, out }: LineProps<Inoculant>) {
  return (
    <div class="entries">
      <Choice
        label={t('plan.form')}
        value={x.form ?? ''}
        options={choices('form', forms)}
        needed={x.form !== undefined}
        put={(v) => (v ? set({ form: v }) : undefined)}
      />
      <NumberField
        label={t('plan.cells')}
        value={x.cellsPerSeed}
        put={(v) => set({ cellsPerSeed: v })}
      />
      <Choice
        label={t('plan.treatment')}
        value={x.treatmentClass === undefined ? '' : String(x.treatmentClass)}
        options={choices('treatment', ['0', '1', '2'])}
        put={(v) => set({ treatmentClass: v === '' ? undefined : Number(v) })}
      />
      <NumberField
        label={t('plan.hours')}
        unit="h"
        value={x.hoursOnSeed}
        put={(v) => set({ hoursOnSeed: v })}
      />
      <NumberField
        label={t('plan.labelHours')}
        unit="h"
        value={x.labelHours}
        put={(v) => set({ labelHours: v })}
      />
      <Choice
        label={t('plan.state')}
        value={x.state ?? ''}
        options={choices('keptState', states)}
        put={(v) => set({ state: v || undefined })}
      />
      <Act does={out}>{t('plan.takeOut')}</Act>
    </div>
  );
}

const isFertilizer = (x: Some<Fertilizer>): x is Fertilizer =>
  x.product !== undefined && x.rate !== undefined && x.placement !== undefined;

export function Fertilizers(p: ListProps<Fertilizer>) {
  const { lines, open, add } = useLines(p, isFertilizer);
  return (
    <>
      <h4>{t('plan.fertilizers')}</h4>
      {lines.map((line, i) => (
        <OneFertilizer key={i} {...line} />
      ))}
      <More open={open} add={add} words={t('plan.addFertilizer')} lacks={t('plan.fertilizerOpen')} />
    </>
  );
}

function OneFertilizer({ body: x, set, out }: LineProps<Fertilizer>) {
  return (
    <div class="entries">
      <Choice
        label={t('plan.product')}
        value={x.product ?? ''}
        options={choices('product', Object.keys(products))}
        needed={x.product !== undefined}
        put={(v) => (v ? set({ product: v }) : undefined)}
      />
      <Amount
        label={t('plan.rate')}
        units={['lb/ac', 'kg/ha']}
        unitWords={(unit) => `${showUnit(unit)} ${products[x.product ?? ''] ?? ''}`}
        value={x.rate}
        needed
        put={(v) => (v ? set({ rate: v }) : undefined)}
      />
      <Choice
        label={t('plan.placement')}
        value={x.placement ?? ''}
        options={choices('placement', [...placements, 'broadcast'])}
        needed={x.placement !== undefined}
        put={(v) => (v ? set({ placement: v }) : undefined)}
      />
      <Act does={out}>{t('plan.takeOut')}</Act>
    </div>
  );
}
