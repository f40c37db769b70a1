// Many outlines from one file: each is matched with a field by its name, and a person confirms.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { looksSwapped, slim, type Feature, type Found } from '../outline/read';
import { ringsOf, swapped, type Geometry } from '../outline/shape';
import { readFile } from '../state/outline-file';
import { homeOf, keepOutlines, outlined } from '../state/outline';
import { planYear, rows, type FieldRow } from '../state/records';
import { loadEngineWords, t, tn } from '../state/words';
import { Choice } from '../ui/form';
import { Frame } from '../ui/frame';
import { FieldMap, viewOf } from '../ui/map';
import { FileInput, featureName, Refusals } from './outline-file';
import { Verdict } from './outline-form';

interface Line {
  feature: Feature;
  geometry: Geometry;
  turned: boolean;
  /** The field it is taken for; empty = left out. */
  field: string;
}

export function Outlines() {
  const found = useSignal<Found | undefined>(undefined);
  const lines = useSignal<readonly Line[]>([]);
  const kept = useSignal(0);
  useEffect(loadEngineWords, []);
  const take = (read: Found) => {
    found.value = read;
    kept.value = 0;
    lines.value = matched(read.features);
  };
  const change = (at: number, field: string) =>
    (lines.value = lines.value.map((l, i) =>
      i === at ? { ...l, field } : l.field === field ? { ...l, field: '' } : l,
    ));
  const keep = async () => {
    const list = lines.value.filter((l) => l.field !== '' && isSound(l));
    if (list.length === 0) return;
    if (await keepOutlines(list.map((l) => [l.field, l.geometry] as const))) {
      kept.value = list.length;
      lines.value = [];
    }
  };
  const ready = lines.value.filter((l) => l.field !== '' && isSound(l)).length;
  return (
    <Frame wide title={t('outlines.title')} back="/">
      <p>{t('outlines.how')}</p>
      <FileInput onFile={(file) => void readFile(file).then(take)} />
      {found.value && <Refusals found={found.value} />}
      {lines.value.length > 0 && <Table lines={lines.value} change={change} />}
      {lines.value.length > 0 && (
        <button class="loud" type="button" disabled={ready === 0} onClick={() => void keep()}>
          {tn('outlines.keep', ready)}
        </button>
      )}
      <p aria-live="polite">{kept.value > 0 && tn('outlines.kept', kept.value)}</p>
    </Frame>
  );
}

const plain = (name: string): string =>
  name
    .toLowerCase()
    .normalize('NFD')
    .replaceAll(/[^\p{L}\p{N}]/gu, '');

/** The field whose name is the same but for case, accents, blanks and signs; its grower may help. */
function fieldFor(name: string, list: readonly FieldRow[]): string {
  const wanted = plain(name);
  if (wanted === '') return '';
  const same = list.filter((r) => plain(r.field.body.name) === wanted);
  const whole = list.filter(
    (r) =>
      plain(`${r.grower?.body.name ?? ''}${r.field.body.name}`) === wanted ||
      plain(`${r.field.body.name}${r.grower?.body.name ?? ''}`) === wanted,
  );
  const found = same.length === 1 ? same : whole;
  return found.length === 1 ? (found[0]?.field.id ?? '') : '';
}

function matched(features: readonly Feature[]): Line[] {
  const taken = new Set<string>();
  return features.map((feature) => {
    const field = fieldFor(feature.name, rows.value);
    const free = taken.has(field) ? '' : field;
    taken.add(field);
    const turned = looksSwapped(feature.geometry, homeOf(free));
    const geometry = slim(turned ? swapped(feature.geometry) : feature.geometry);
    return { feature, geometry, turned, field: free };
  });
}

const judgementOf = (l: Line) => outlined(l.geometry, l.field, planYear.value, 0).value;

function isSound(l: Line): boolean {
  const judged = judgementOf(l);
  return judged.at === 'here' && !judged.outlined.findings?.length;
}

interface TableProps {
  lines: readonly Line[];
  change: (at: number, field: string) => void;
}

function Table({ lines, change }: TableProps) {
  return (
    <table class="outlines">
      <thead>
        <tr>
          <th scope="col">{t('outlines.shape')}</th>
          <th scope="col">{t('outlines.inFile')}</th>
          <th scope="col">{t('outlines.field')}</th>
          <th scope="col">{t('outlines.size')}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((l, i) => (
          <Row key={i} line={l} n={i} change={change} />
        ))}
      </tbody>
    </table>
  );
}

function Row({ line, n, change }: { line: Line; n: number; change: TableProps['change'] }) {
  const name = featureName(line.feature, n);
  const has = rows.value.find((r) => r.field.id === line.field)?.field.body.outline !== undefined;
  const options = [
    ['', t('outlines.leave')] as const,
    ...rows.value.map((r) => {
      const words = [r.grower?.body.name, r.field.body.name].filter(Boolean).join(', ');
      return [r.field.id, words] as const;
    }),
  ];
  return (
    <tr>
      <td>
        <FieldMap
          small
          view={viewOf(ringsOf(line.geometry).flat())}
          label={t('map.field', { field: name })}
          field={line.geometry}
        />
      </td>
      <th scope="row">
        {name}
        {line.turned && <p class="aside">{t('outlines.turned')}</p>}
      </th>
      <td>
        <Choice
          label={t('outlines.fieldOf', { name })}
          value={line.field}
          options={options}
          onChange={(field) => change(n, field)}
        />
        {has && <p class="aside">{t('outlines.replaces')}</p>}
      </td>
      <td>
        <Verdict judged={judgementOf(line)} />
      </td>
    </tr>
  );
}
