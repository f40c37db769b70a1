// The layers of a soil test. One that has been added is kept with its nitrate, not before: until the
// laboratory's figure is typed there is nothing true to keep.
import type { Layer, Quantity } from '../wire.gen';
import { showUnit, t } from '../state/words';
import { useAdded, type PutList } from '../ui/added';
import { Act, Choice, NumberField } from '../ui/form';
import type { Answer } from '../ui/refusal';

const depthUnits = ['in', 'cm'];
const nitrateUnits = [
  ['ppm NO3-N', 'ppm NO3-N'],
  ['ppm NO3', 'ppm NO3'],
  ['lb/ac', 'lb/ac NO3-N'],
  ['kg/ha', 'kg/ha NO3-N'],
] as const;

/** A layer whose nitrate may not be typed yet. */
interface Row {
  top: Quantity;
  bottom: Quantity;
  nitrate: { value?: number; unit: string };
}

const isWhole = (row: Row): row is Layer => row.nitrate.value !== undefined;

/** What follows below the last layer of a test. */
function below(last: Layer | undefined): Row {
  return {
    top: last?.bottom ?? { value: 0, unit: 'in' },
    bottom: { value: (last?.bottom.value ?? 0) + 6, unit: last?.bottom.unit ?? 'in' },
    nitrate: { unit: last?.nitrate.unit ?? 'ppm NO3-N' },
  };
}

interface Props {
  layers: readonly Layer[];
  put: PutList<Layer>;
}

export function Layers({ layers, put }: Props) {
  const first = layers.length === 0 ? below(undefined) : undefined;
  const { row: added, fill } = useAdded({ at: layers.length, put, isWhole, first });
  const change = (i: number, how: (row: Row) => Row): Answer =>
    put((now) =>
      now.map((layer, j) => {
        const next = i === j ? how(layer) : layer;
        return isWhole(next) ? next : layer;
      }),
    );
  const { value: row } = added;
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
        {layers.map((layer, i) => (
          <Line
            key={i}
            n={i + 1}
            row={layer}
            change={(how) => change(i, how)}
            out={() => put((now) => now.filter((_, j) => j !== i))}
            last={layers.length < 2}
          />
        ))}
        {row && (
          <Line
            key={layers.length}
            n={layers.length + 1}
            row={row}
            change={fill}
            out={() => void (added.value = undefined)}
            last={layers.length === 0}
          />
        )}
      </tbody>
      <tfoot>
        <tr>
          <td colSpan={6}>
            <button
              type="button"
              disabled={row !== undefined}
              onClick={() => (added.value = below(layers.at(-1)))}
            >
              {t('soil.layerIn')}
            </button>{' '}
            {row && <span class="aside">{t('soil.nitrateOpen', { n: layers.length + 1 })}</span>}
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

interface LineProps {
  n: number;
  row: Row;
  change: (how: (row: Row) => Row) => Answer;
  out: () => Answer;
  /** The only one: a test has at least one layer. */
  last: boolean;
}

function Line({ n, row: { top, bottom, nitrate }, change, out, last }: LineProps) {
  const typed =
    (how: (row: Row, value: number) => Row) =>
    (value: number | undefined): Answer =>
      value === undefined ? undefined : change((x) => how(x, value));
  const unit = (of: string) =>
    change((x) => ({ ...x, top: { ...x.top, unit: of }, bottom: { ...x.bottom, unit: of } }));
  return (
    <tr>
      <td>
        <NumberField
          label={t('soil.fromOf', { n })}
          value={top.value}
          needed
          put={typed((x, value) => ({ ...x, top: { ...x.top, value } }))}
        />
      </td>
      <td>
        <NumberField
          label={t('soil.toOf', { n })}
          value={bottom.value}
          needed
          put={typed((x, value) => ({ ...x, bottom: { ...x.bottom, value } }))}
        />
      </td>
      <td>
        <Choice
          label={t('soil.depthUnitOf', { n })}
          value={bottom.unit}
          options={depthUnits.map((u) => [u, showUnit(u)] as const)}
          put={unit}
        />
      </td>
      <td>
        <NumberField
          label={t('soil.nitrateOf', { n })}
          value={nitrate.value}
          needed
          open={nitrate.value === undefined}
          put={typed((x, value) => ({ ...x, nitrate: { ...x.nitrate, value } }))}
        />
      </td>
      <td>
        <Choice
          label={t('soil.unitOf', { n })}
          value={nitrate.unit}
          options={nitrateUnits}
          put={(of) => change((x) => ({ ...x, nitrate: { ...x.nitrate, unit: of } }))}
        />
      </td>
      <td>
        <Act disabled={last} aria-label={t('soil.layerOutOf', { n })} does={out}>
          ×
        </Act>
      </td>
    </tr>
  );
}
