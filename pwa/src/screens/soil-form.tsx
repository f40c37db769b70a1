// The soil test that serves the crop year, as the laboratory gave it.
import { useSignal } from '@preact/signals';
import type { Layer, Problem, SoilTest } from '../wire.gen';
import { edit, make, judge } from '../state/edit';
import { newId } from '../id';
import { planYear, today, type FieldRow } from '../state/records';
import { t, showDate, type Key } from '../state/words';
import { Choice, NumberField, TextField } from '../ui/form';
import { ProblemLine, useProblem } from '../ui/problem';

const depthUnits = [
  ['in', 'in'],
  ['cm', 'cm'],
] as const;
const nitrateUnits = [
  ['ppm NO3-N', 'ppm NO3-N'],
  ['ppm NO3', 'ppm NO3'],
  ['lb/ac', 'lb/ac NO3-N'],
  ['kg/ha', 'kg/ha NO3-N'],
] as const;
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
          put={(set) => edit('soilTest', test.id, set, row.field.id)}
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

type Put = (set: Partial<Record<keyof SoilTest, unknown>>) => Promise<Problem | undefined>;

function Editor({ body, put }: { body: SoilTest; put: Put }) {
  const { problem, run } = useProblem();
  const change = (set: Parameters<Put>[0]) => run(put(set));
  const inPPM = body.layers.some((l) => l.nitrate.unit.startsWith('ppm'));
  return (
    <>
      <div class="entries">
        <TextField
          label={t('soil.sampled')}
          type="date"
          value={body.sampled}
          onChange={(v) => change({ sampled: v })}
        />
        {inPPM && (
          <Choice
            label={t('soil.ppmRule')}
            value={body.ppmRule ?? ''}
            options={[
              ['', t('form.notSaid')],
              ...ppmRules.map((r) => [r, t(`ppm.${r}` as Key)] as const),
            ]}
            onChange={(v) => change({ ppmRule: v || null })}
          />
        )}
        {body.ppmRule === 'bulkDensity' && (
          <NumberField
            label={t('soil.bulkDensity')}
            unit="g/cm³"
            value={body.bulkDensity}
            onChange={(v) => change({ bulkDensity: v })}
          />
        )}
      </div>
      <Layers layers={body.layers} put={(layers) => change({ layers })} />
      <div class="entries">
        <NumberField
          label={t('soil.ph')}
          value={body.ph?.value}
          onChange={(v) =>
            change({ ph: v === undefined ? null : { value: v, basis: body.ph?.basis ?? 'water' } })
          }
        />
        <Choice
          short
          label={t('soil.phBasis')}
          value={body.ph?.basis ?? 'water'}
          options={[
            ['water', t('soil.water')],
            ['CaCl2', 'CaCl₂'],
          ]}
          onChange={(v) => body.ph && change({ ph: { ...body.ph, basis: v } })}
        />
        <NumberField
          label={t('soil.organic')}
          unit="%"
          value={body.organicMatter}
          onChange={(v) => change({ organicMatter: v })}
        />
      </div>
      <ProblemLine problem={problem} />
    </>
  );
}

function Layers({ layers, put }: { layers: readonly Layer[]; put: (layers: Layer[]) => void }) {
  const at = (i: number, change: (l: Layer) => Layer) =>
    put(layers.map((l, j) => (i === j ? change(l) : l)));
  const last = layers.at(-1);
  const add = () =>
    put([
      ...layers,
      {
        top: last?.bottom ?? { value: 0, unit: 'in' },
        bottom: { value: (last?.bottom.value ?? 0) + 6, unit: last?.bottom.unit ?? 'in' },
        nitrate: { value: 0, unit: last?.nitrate.unit ?? 'ppm NO3-N' },
      },
    ]);
  return (
    <table class="layers">
      <thead>
        <tr>
          <th>{t('soil.from')}</th>
          <th>{t('soil.to')}</th>
          <th>{t('soil.depthUnit')}</th>
          <th>{t('soil.nitrate')}</th>
          <th>{t('soil.unit')}</th>
          <th>
            <span class="hidden">{t('soil.layerOut')}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {layers.map((l, i) => (
          <tr key={i}>
            <td>
              <NumberField
                label={t('soil.fromOf', { n: i + 1 })}
                value={l.top.value}
                onChange={(v) =>
                  v !== undefined && at(i, (x) => ({ ...x, top: { ...x.top, value: v } }))
                }
              />
            </td>
            <td>
              <NumberField
                label={t('soil.toOf', { n: i + 1 })}
                value={l.bottom.value}
                onChange={(v) =>
                  v !== undefined && at(i, (x) => ({ ...x, bottom: { ...x.bottom, value: v } }))
                }
              />
            </td>
            <td>
              <Choice
                label={t('soil.depthUnitOf', { n: i + 1 })}
                value={l.bottom.unit}
                options={depthUnits}
                onChange={(u) =>
                  at(i, (x) => ({
                    ...x,
                    top: { ...x.top, unit: u },
                    bottom: { ...x.bottom, unit: u },
                  }))
                }
              />
            </td>
            <td>
              <NumberField
                label={t('soil.nitrateOf', { n: i + 1 })}
                value={l.nitrate.value}
                onChange={(v) =>
                  v !== undefined && at(i, (x) => ({ ...x, nitrate: { ...x.nitrate, value: v } }))
                }
              />
            </td>
            <td>
              <Choice
                label={t('soil.unitOf', { n: i + 1 })}
                value={l.nitrate.unit}
                options={nitrateUnits}
                onChange={(u) => at(i, (x) => ({ ...x, nitrate: { ...x.nitrate, unit: u } }))}
              />
            </td>
            <td>
              <button
                type="button"
                disabled={layers.length < 2}
                aria-label={t('soil.layerOutOf', { n: i + 1 })}
                onClick={() => put(layers.filter((_, j) => j !== i))}
              >
                ×
              </button>
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={6}>
            <button type="button" onClick={add}>
              {t('soil.layerIn')}
            </button>
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

/** A new test is typed whole before it is kept, since half of one would mislead. */
function NewTest({ field, done }: { field: string; done: () => void }) {
  const depth = (value: number) => ({ value, unit: 'in' });
  const body = useSignal<SoilTest>({
    field,
    sampled: today.value,
    cropYear: planYear.value,
    ppmRule: '2per6in',
    layers: [{ top: depth(0), bottom: depth(6), nitrate: { value: 0, unit: 'ppm NO3-N' } }],
  });
  const { problem, run } = useProblem();
  const put: Put = (set) => {
    const next: Record<string, unknown> = { ...body.value };
    for (const [name, value] of Object.entries(set)) {
      if (value === null || value === undefined) delete next[name];
      else next[name] = value;
    }
    body.value = next as unknown as SoilTest;
    return Promise.resolve(undefined);
  };
  const add = async () => {
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
      <button type="button" class="loud" onClick={() => run(add())}>
        {t('soil.keep')}
      </button>
      <button type="button" onClick={done}>
        {t('form.cancel')}
      </button>
    </>
  );
}
