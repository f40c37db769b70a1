// The soil test that serves the crop year, as the laboratory gave it.
import { useSignal } from '@preact/signals';
import type { SoilTest } from '../wire.gen';
import { edit, make, judge, type Change } from '../state/edit';
import { newId } from '../id';
import { planYear, type FieldRow } from '../state/records';
import { t, showDate, type Key } from '../state/words';
import { Amount } from '../ui/amount';
import { Choice, isOpen, NumberField, TextField } from '../ui/form';
import { ProblemLine, useProblem } from '../ui/problem';
import type { Answer } from '../ui/refusal';
import { Layers } from './soil-layers';

const ppmRules = ['2per6in', '0.3perInch', 'bulkDensity'] as const;

export function SoilForm({ row }: { row: FieldRow }) {
  const { test } = row;
  const adding = useSignal(false);
  return (
    <section class="edit">
      <h3>{t('soil.title')}</h3>
      {test ? (
        <Editor
          key={test.id}
          body={test.body}
          put={(change) => edit('soilTest', test.id, change, row.field.id)}
        />
      ) : adding.value ? (
        <NewTest field={row.field.id} done={() => (adding.value = false)} />
      ) : (
        <p>
          {t('soil.none', { year: planYear.value })}{' '}
          <button type="button" onClick={() => (adding.value = true)}>
            {t('soil.add')}
          </button>
        </p>
      )}
      {test && (
        <p class="aside">
          {t('soil.serves', { date: showDate(test.body.sampled), year: planYear.value })}
        </p>
      )}
    </section>
  );
}

type Put = (change: Change<SoilTest>) => Answer;

function Editor({ body, put }: { body: SoilTest; put: Put }) {
  const inPPM =
    body.layers.length === 0 || body.layers.some((l) => l.nitrate.unit.startsWith('ppm'));
  return (
    <>
      <div class="entries">
        <TextField
          label={t('soil.sampled')}
          type="date"
          value={body.sampled}
          needed
          {...(body.sampled === '' ? { open: true, hint: t('soil.sampledOpen') } : {})}
          // The test stays in the crop year it is shown in: another date must not take it out of sight.
          put={(v) => put({ sampled: v, cropYear: planYear.value })}
        />
        {inPPM && (
          <Choice
            label={t('soil.ppmRule')}
            value={body.ppmRule ?? ''}
            options={[
              ['', t('form.notSaid')],
              ...ppmRules.map((r) => [r, t(`ppm.${r}` as Key)] as const),
            ]}
            put={(v) => put({ ppmRule: v || null })}
          />
        )}
        {body.ppmRule === 'bulkDensity' && (
          <NumberField
            label={t('soil.bulkDensity')}
            unit="g/cm³"
            value={body.bulkDensity}
            put={(v) => put({ bulkDensity: v })}
          />
        )}
      </div>
      <Layers
        layers={body.layers}
        put={(change) => put((now) => ({ layers: change(now.layers ?? []) }))}
      />
      <div class="entries">
        <Amount
          label={t('soil.ph')}
          units={['water', 'CaCl2']}
          unitLabel={t('soil.phBasis')}
          unitAsked
          unitWords={(basis) => (basis === 'water' ? t('soil.water') : 'CaCl₂')}
          value={body.ph && { value: body.ph.value, unit: body.ph.basis }}
          put={(ph) => put({ ph: ph && { value: ph.value, basis: ph.unit } })}
        />
        <NumberField
          label={t('soil.organic')}
          unit="%"
          value={body.organicMatter}
          put={(v) => put({ organicMatter: v })}
        />
      </div>
    </>
  );
}

/** A new test is typed whole before it is kept, since half of one would mislead. */
function NewTest({ field, done }: { field: string; done: () => void }) {
  const body = useSignal<SoilTest>({
    field,
    sampled: '',
    cropYear: planYear.value,
    ppmRule: '2per6in',
    layers: [],
  });
  const { problem, run } = useProblem();
  const put: Put = (change) => {
    const set = typeof change === 'function' ? change(body.value) : change;
    const next: Record<string, unknown> = { ...body.value };
    for (const [name, value] of Object.entries(set)) {
      if (value === null || value === undefined) delete next[name];
      else next[name] = value;
    }
    body.value = next as unknown as SoilTest;
    return undefined;
  };
  const add = async (button: Element) => {
    if (isOpen(button.closest('.edit'))) return undefined;
    const set = body.value as unknown as Record<string, unknown>;
    const found = await judge(field, newId(Date.now()), 'soilTest', set);
    if (found) return found;
    if (await make('soilTest', set)) done();
    return undefined;
  };
  return (
    <>
      <Editor body={body.value} put={put} />
      <ProblemLine problem={problem} />
      <button type="button" class="loud" onClick={(e) => run(add(e.currentTarget))}>
        {t('soil.keep')}
      </button>
      <button type="button" onClick={done}>
        {t('form.cancel')}
      </button>
    </>
  );
}
