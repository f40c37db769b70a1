// How a field was seeded: the dates that the windows hang on, and what went into the ground.
import { useEffect } from 'preact/hooks';
import type { Quantity, Season } from '../wire.gen';
import { editSeason, type Change } from '../state/edit';
import { one, planYear, rowOf, seasons, type FieldRow } from '../state/records';
import { mayPlan } from '../state/session';
import { loadEngineWords, showDate, showNumber, showUnit, t, type Key } from '../state/words';
import { Amount } from '../ui/amount';
import { Leader } from '../ui/figure';
import { Act } from '../ui/form';
import { Frame } from '../ui/frame';
import { KeptLine } from '../ui/sync-line';
import { NotHere } from './not-here';
import { Dates } from './plan-form';
import { Inoculants, inoculantsOf } from './plan-products';

export function SeedingScreen({ id = '' }: { id?: string }) {
  const field = one('field', id);
  if (!field) return <NotHere />;
  const row = rowOf(field, planYear.value);
  return (
    <Frame title={t('seeding.title')} back={`/field/${id}`} backWords={field.body.name}>
      {mayPlan.value ? (
        <>
          <KeptLine />
          <SeedingForm row={row} whole />
        </>
      ) : (
        <Facts body={row.season?.body ?? {}} />
      )}
    </Frame>
  );
}

const amount = (q: Quantity | undefined): string | undefined =>
  q && `${showNumber(q.value, 2)} ${showUnit(q.unit)}`;

/** The same for those who only read it: a spacing for the stand count, a date for the stage. */
function Facts({ body }: { body: Partial<Season> }) {
  useEffect(loadEngineWords, []); // for the units
  const facts: readonly (readonly [string, string | undefined])[] = [
    [t('plan.seeded'), body.seeded && showDate(body.seeded)],
    [t('plan.emerged'), body.emerged && showDate(body.emerged)],
    [t('plan.rows'), amount(body.rowSpacing)],
    [t('seeding.depth'), amount(body.seedDepth)],
    [t('seeding.rate'), amount(body.seedRate)],
    [t('seeding.starter'), amount(body.starterUsed)],
    [t('plan.inoculants'), body.inoculants?.map((x) => t(`form.${x.form}` as Key)).join('; ')],
  ];
  return (
    <>
      {facts.map(([label, words]) => (
        <Leader key={label} label={label}>
          {words || t('form.notSaid')}
        </Leader>
      ))}
      <p class="aside">{t('seeding.desk')}</p>
    </>
  );
}

/** What was last said of another field this year: offered, not assumed. */
function lastSaid<K extends 'seedDepth' | 'rowSpacing'>(name: K, but: string): Season[K] | undefined {
  const said = [...seasons.value.values()]
    .flat()
    .filter((s) => s.body.cropYear === planYear.value && s.body.field !== but && s.body[name]);
  return said.sort((a, b) => b.seq - a.seq)[0]?.body[name];
}

export function SeedingForm({ row, whole = false }: { row: FieldRow; whole?: boolean }) {
  const body: Partial<Season> = row.season?.body ?? {};
  const { id } = row.field;
  const put = (change: Change<Season>) => editSeason(id, planYear.value, change);
  const depth = body.seedDepth ? undefined : lastSaid('seedDepth', id);
  return (
    <section class="edit">
      {!whole && <h3>{t('seeding.title')}</h3>}
      <p class="aside">{t('seeding.why')}</p>
      <div class="entries">
        {whole && <Dates body={body} put={put} />}
        <Amount
          label={t('seeding.rate')}
          units={['lb/ac', 'kg/ha']}
          value={body.seedRate}
          put={(v) => put({ seedRate: v })}
        />
        <Amount
          label={t('seeding.depth')}
          units={['in', 'cm']}
          value={body.seedDepth}
          put={(v) => put({ seedDepth: v })}
        />
        {whole && (
          <Amount
            label={t('plan.rows')}
            units={['in', 'cm']}
            value={body.rowSpacing}
            put={(v) => put({ rowSpacing: v })}
          />
        )}
        <Amount
          label={t('seeding.starter')}
          units={['lb/ac', 'kg/ha']}
          value={body.starterUsed}
          put={(v) => put({ starterUsed: v })}
        />
      </div>
      {depth && (
        <Act does={() => put({ seedDepth: depth })}>
          {t('seeding.sameDepth', { depth: amount(depth) ?? '' })}
        </Act>
      )}
      {whole && (
        <Inoculants list={body.inoculants ?? []} put={inoculantsOf(put)} />
      )}
    </section>
  );
}
