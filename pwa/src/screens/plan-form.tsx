// What is meant for the crop year: crop, yield and prices, where the starter goes, the inoculant.
import type { Season } from '../wire.gen';
import { editSeason, type Change } from '../state/edit';
import { planYear, settings, type FieldRow } from '../state/records';
import { t } from '../state/words';
import { Choice, choices, TextField } from '../ui/form';
import { Amount } from '../ui/amount';
import { chosen, crops, withOwn } from '../ui/crop';
import type { Answer } from '../ui/refusal';
import { Fertilizers, fertilizersOf, Inoculants, inoculantsOf, placements } from './plan-products';

type Put = (change: Change<Season>) => Answer;
const seedbeds = ['moist', 'marginal', 'dry', 'hotDry'] as const;
const outlooks = ['dry', 'normal', 'moist'] as const;

export function PlanForm({ row }: { row: FieldRow }) {
  const body: Partial<Season> = row.season?.body ?? {};
  const put: Put = (change) => editSeason(row.field.id, planYear.value, change);
  return (
    <section class="edit">
      <h3>{t('plan.title', { year: planYear.value })}</h3>
      <div class="entries">
        <Choice
          label={t('crop')}
          value={chosen(body.crop)}
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
      <Fertilizers list={body.fertilizers ?? []} put={fertilizersOf(put)} />
    </section>
  );
}

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
