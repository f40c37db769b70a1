// What is meant for the crop year: crop, yield and prices, where the starter goes, the inoculant.
import type { Fertilizer, Inoculant, Season } from '../wire.gen';
import { editSeason, type Change } from '../state/edit';
import { planYear, settings, type FieldRow } from '../state/records';
import { showUnit, t, type Key } from '../state/words';
import { Act, Choice, NumberField, TextField } from '../ui/form';
import { Amount } from '../ui/amount';
import { crops, withOwn } from '../ui/crop';
import type { Answer } from '../ui/refusal';

type Put = (change: Change<Season>) => Answer;
/** How a list of a season becomes another one. */
type PutList<T> = (change: (now: readonly T[]) => readonly T[]) => Answer;

const placements = ['seedRow', 'sideBand', 'pairedRow', 'twinKnife', 'midRow'] as const;
const seedbeds = ['moist', 'marginal', 'dry', 'hotDry'] as const;
const outlooks = ['dry', 'normal', 'moist'] as const;
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

const choices = (prefix: string, keys: readonly string[]): (readonly [string, string])[] => [
  ['', t('form.notSaid')],
  ...keys.map((k) => [k, t(`${prefix}.${k}` as Key)] as const),
];

export function PlanForm({ row }: { row: FieldRow }) {
  const body: Partial<Season> = row.season?.body ?? {};
  const put: Put = (change) => editSeason(row.field.id, planYear.value, change);
  return (
    <section class="edit">
      <h3>{t('plan.title', { year: planYear.value })}</h3>
      <div class="entries">
        <Choice
          label={t('crop')}
          value={body.crop ?? ''}
          options={withOwn(body.crop, crops)}
          needed
          put={(v) => put({ crop: v })}
        />
        <Amount
          label={t('plan.yield')}
          units={['bu/ac', 'kg/ha']}
          value={body.yield}
          put={(v) => put({ yield: v })}
        />
        <Amount
          label={t('plan.price')}
          units={['$/bu', '$/t']}
          value={body.price}
          put={(v) => put({ price: v })}
        />
        <Amount
          label={t('plan.nPrice')}
          units={['$/lb N', '$/kg N']}
          value={body.nitrogenPrice}
          otherwise={settings.value?.nitrogenPrice}
          put={(v) => put({ nitrogenPrice: v })}
        />
        <Choice
          label={t('plan.placement')}
          value={body.placement ?? ''}
          options={choices('placement', placements)}
          put={(v) => put({ placement: v || null })}
        />
        <Amount
          label={t('plan.opener')}
          units={['in', 'cm']}
          value={body.openerSpread}
          put={(v) => put({ openerSpread: v })}
        />
        <Amount
          label={t('plan.rows')}
          units={['in', 'cm']}
          value={body.rowSpacing}
          put={(v) => put({ rowSpacing: v })}
        />
        <Choice
          label={t('plan.seedbed')}
          value={body.seedbed ?? ''}
          options={choices('seedbed', seedbeds)}
          put={(v) => put({ seedbed: v || null })}
        />
        <Choice
          label={t('plan.season')}
          value={body.season ?? ''}
          options={choices('outlook', outlooks)}
          put={(v) => put({ season: v || null })}
        />
        <Dates body={body} put={put} />
      </div>
      <Inoculants list={body.inoculants ?? []} put={inoculantsOf(put)} />
      <Fertilizers
        list={body.fertilizers ?? []}
        put={(change) => put((now) => ({ fertilizers: change(now.fertilizers ?? []) }))}
      />
    </section>
  );
}

export const inoculantsOf =
  (put: Put): PutList<Inoculant> =>
  (change) =>
    put((now) => ({ inoculants: change(now.inoculants ?? []) }));

export function Dates({ body, put }: { body: Partial<Season>; put: Put }) {
  return (
    <>
      <TextField
        label={t('plan.seeded')}
        type="date"
        value={body.seeded ?? ''}
        put={(v) => put({ seeded: v || null })}
      />
      <TextField
        label={t('plan.emerged')}
        type="date"
        value={body.emerged ?? ''}
        put={(v) => put({ emerged: v || null })}
      />
    </>
  );
}

export function Inoculants({
  list,
  put,
}: {
  list: readonly Inoculant[];
  put: PutList<Inoculant>;
}) {
  const at = (i: number, change: Partial<Record<keyof Inoculant, unknown>>) =>
    put((now) => now.map((x, j) => (i === j ? merged(x, change) : x)));
  return (
    <>
      <h4>{t('plan.inoculants')}</h4>
      {list.map((x, i) => (
        <div key={i} class="entries">
          <Choice
            label={t('plan.form')}
            value={x.form}
            options={forms.map((f) => [f, t(`form.${f}` as Key)] as const)}
            put={(v) => at(i, { form: v })}
          />
          <NumberField
            label={t('plan.cells')}
            value={x.cellsPerSeed}
            put={(v) => at(i, { cellsPerSeed: v })}
          />
          <Choice
            label={t('plan.treatment')}
            value={x.treatmentClass === undefined ? '' : String(x.treatmentClass)}
            options={choices('treatment', ['0', '1', '2'])}
            put={(v) => at(i, { treatmentClass: v === '' ? undefined : Number(v) })}
          />
          <NumberField
            label={t('plan.hours')}
            unit="h"
            value={x.hoursOnSeed}
            put={(v) => at(i, { hoursOnSeed: v })}
          />
          <NumberField
            label={t('plan.labelHours')}
            unit="h"
            value={x.labelHours}
            put={(v) => at(i, { labelHours: v })}
          />
          <Choice
            label={t('plan.state')}
            value={x.state ?? 'good'}
            options={states.map((s) => [s, t(`keptState.${s}` as Key)] as const)}
            put={(v) => at(i, { state: v })}
          />
          <Act does={() => put((now) => now.filter((_, j) => j !== i))}>{t('plan.takeOut')}</Act>
        </div>
      ))}
      <Act does={() => put((now) => [...now, { form: 'granular' }])}>{t('plan.addInoculant')}</Act>
    </>
  );
}

function merged<T extends object>(old: T, change: Partial<Record<keyof T, unknown>>): T {
  const next: Record<string, unknown> = { ...old, ...change };
  for (const [name, value] of Object.entries(next)) if (value === undefined) delete next[name];
  return next as T;
}

function Fertilizers({
  list,
  put,
}: {
  list: readonly Fertilizer[];
  put: PutList<Fertilizer>;
}) {
  const at = (i: number, change: Partial<Fertilizer>) =>
    put((now) => now.map((x, j) => (i === j ? { ...x, ...change } : x)));
  const spots = [...placements, 'broadcast'];
  return (
    <>
      <h4>{t('plan.fertilizers')}</h4>
      {list.map((x, i) => (
        <div key={i} class="entries">
          <Choice
            label={t('plan.product')}
            value={x.product}
            options={Object.keys(products).map((p) => [p, t(`product.${p}` as Key)] as const)}
            put={(v) => at(i, { product: v })}
          />
          <Amount
            label={t('plan.rate')}
            units={['lb/ac', 'kg/ha']}
            unitWords={(unit) => `${showUnit(unit)} ${products[x.product] ?? ''}`}
            value={x.rate}
            needed
            put={(v) => (v ? at(i, { rate: v }) : undefined)}
          />
          <Choice
            label={t('plan.placement')}
            value={x.placement}
            options={spots.map((p) => [p, t(`placement.${p}` as Key)] as const)}
            put={(v) => at(i, { placement: v })}
          />
          <Act does={() => put((now) => now.filter((_, j) => j !== i))}>{t('plan.takeOut')}</Act>
        </div>
      ))}
      <Act
        does={() =>
          put((now) => [
            ...now,
            { product: 'map', rate: { value: 0, unit: 'lb/ac' }, placement: 'sideBand' },
          ])
        }
      >
        {t('plan.addFertilizer')}
      </Act>
    </>
  );
}
