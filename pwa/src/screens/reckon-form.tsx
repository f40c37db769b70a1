// What a rescue pass is reckoned with. What nobody says here, the engine takes by its own rules and
// says so beside the figures.
import type { Rescue } from '../wire.gen';
import { editSeason } from '../state/edit';
import { one, planYear, rowOf } from '../state/records';
import { t } from '../state/words';
import { Amount } from '../ui/amount';
import { Fold } from '../ui/fold';
import { Choice, TextField, Tick } from '../ui/form';

const soybeanStages = ['V3', 'R1', 'R2', 'R3', 'R4', 'R5'] as const;

type Set = { readonly [K in keyof Rescue]?: Rescue[K] | null | undefined };

/** The pass that is thought of: a part that was taken away is not said; a pass without any is none. */
function thoughtOf(now: Rescue | undefined, set: Set): Rescue | null {
  const said = Object.entries({ ...now, ...set }).filter(([, v]) => Boolean(v));
  return said.length > 0 ? Object.fromEntries(said) : null;
}

export function ReckonForm({ field }: { field: string }) {
  const record = one('field', field);
  const body = record && rowOf(record, planYear.value).season?.body;
  if (!body) return null;
  const { rescue: r = {} } = body;
  const put = (set: Set) =>
    editSeason(field, planYear.value, (now) => ({ rescue: thoughtOf(now.rescue, set) }));
  return (
    <Fold title={t('reckon.title')}>
      <p class="aside">{t('reckon.why')}</p>
      <div class="entries">
        <TextField
          label={t('reckon.on')}
          type="date"
          value={r.on ?? ''}
          put={(on) => put({ on: on || null })}
        />
        <Amount
          label={t('reckon.rate')}
          units={['lb/ac', 'kg/ha']}
          value={r.rate}
          put={(rate) => put({ rate })}
        />
        <Choice
          label={t('decide.product')}
          value={r.product ?? ''}
          options={[
            ['', t('rescueProduct.open')],
            ['urea', t('rescueProduct.urea')],
            ['uan', t('rescueProduct.uan')],
          ]}
          put={(product) => put({ product: product || null })}
        />
        <Amount
          label={t('reckon.rain')}
          units={['in', 'mm']}
          value={r.rain}
          put={(rain) => put({ rain })}
        />
        {body.crop === 'soybean' && (
          <Choice
            label={t('reckon.stage')}
            value={r.stage ?? ''}
            options={[['', t('form.notSaid')], ...soybeanStages.map((s) => [s, s] as const)]}
            put={(stage) => put({ stage: stage || null })}
          />
        )}
        <Tick
          label={t('reckon.inhibitor')}
          value={!!r.inhibitor}
          put={(inhibitor) => put({ inhibitor })}
        />
      </div>
    </Fold>
  );
}
