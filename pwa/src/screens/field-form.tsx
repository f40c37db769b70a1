// The ground itself: name, size, outline, soil; and putting a field or its grower away.
import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { edit, type Values } from '../state/edit';
import { all, type FieldRow } from '../state/records';
import { t, type Key } from '../state/words';
import { geometryOf } from '../outline';
import { Amount } from '../ui/amount';
import { Choice, TextField, Tick } from '../ui/form';
import { ProblemLine, useProblem } from '../ui/problem';
import { PutAway } from './put-away';

const zones = ['brown', 'darkBrown', 'black', 'grey'] as const;
const textures = ['coarse', 'medium', 'fine'] as const;

const choices = (prefix: string, keys: readonly string[]): (readonly [string, string])[] => [
  ['', t('form.notSaid')],
  ...keys.map((k) => [k, t(`${prefix}.${k}` as Key)] as const),
];

export function FieldForm({ row }: { row: FieldRow }) {
  const { problem, run } = useProblem();
  const { id, body } = row.field;
  const put = (set: Values) => run(edit('field', id, set, id));
  const growers = all('grower')
    .filter((g) => !g.body.archived || g.id === body.grower)
    .map((g) => [g.id, g.body.name] as const);
  const { route } = useLocation();
  const leave = () => route('/');
  return (
    <section class="edit">
      <h3>{t('fieldForm.title')}</h3>
      <div class="entries">
        <TextField
          label={t('newField.name')}
          value={body.name}
          onChange={(v) => v.trim() !== '' && put({ name: v.trim() })}
        />
        <Choice
          label={t('col.grower')}
          value={body.grower}
          options={growers}
          onChange={(v) => put({ grower: v })}
        />
        <Amount
          label={t('col.area')}
          units={['ac', 'ha']}
          value={body.area}
          put={(v) => put({ area: v })}
        />
        <Choice
          label={t('fieldForm.zone')}
          value={body.soilZone ?? ''}
          options={choices('zone', zones)}
          onChange={(v) => put({ soilZone: v || null })}
        />
        <Choice
          label={t('fieldForm.texture')}
          value={body.texture ?? ''}
          options={choices('texture', textures)}
          onChange={(v) => put({ texture: v || null })}
        />
        <Tick
          label={t('fieldForm.lime')}
          value={!!body.freeLime}
          onChange={(on) => put({ freeLime: on })}
        />
      </div>
      <Outline has={body.outline !== undefined} put={(outline) => put({ outline })} />
      <GrowerName row={row} />
      <ProblemLine problem={problem} />
      <div class="row">
        <PutAway rec={row.field} gone={leave} />
        {row.grower && <PutAway rec={row.grower} gone={leave} />}
      </div>
    </section>
  );
}

function GrowerName({ row }: { row: FieldRow }) {
  const { grower } = row;
  if (!grower) return null;
  const rename = (name: string) =>
    name.trim() !== '' && void edit('grower', grower.id, { name: name.trim() });
  return <TextField label={t('fieldForm.growerName')} value={grower.body.name} onChange={rename} />;
}

function Outline({ has, put }: { has: boolean; put: (outline: unknown) => void }) {
  const error = useSignal('');
  const read = (text: string) => {
    if (text.trim() === '') return;
    const found = geometryOf(text);
    error.value = typeof found === 'string' ? t(`outline.${found}` as Key) : '';
    if (typeof found !== 'string') put(found);
  };
  const file = (input: HTMLInputElement) => void input.files?.[0]?.text().then(read);
  return (
    <div class="entry">
      <p>{has ? t('fieldForm.hasOutline') : t('fieldForm.noOutline')}</p>
      <TextField
        label={t('fieldForm.outline')}
        value=""
        onChange={read}
        error={error.value}
        hint={t('fieldForm.outlineHint')}
      />
      <label>
        {t('fieldForm.outlineFile')}{' '}
        <input
          type="file"
          accept=".geojson,.json,application/geo+json"
          onChange={(e) => file(e.currentTarget)}
        />
      </label>
    </div>
  );
}
