// The ground itself: name, size, outline, soil; and putting a field or its grower away.
import { useLocation } from 'preact-iso';
import type { Field, RootRot } from '../wire.gen';
import { edit, type Values } from '../state/edit';
import { all, type FieldRow } from '../state/records';
import { t } from '../state/words';
import { Amount } from '../ui/amount';
import { Choice, choices, TextField, Tick } from '../ui/form';
import { GrowerMap } from '../ui/grower-map';
import { PutAway } from './put-away';

const zones = ['brown', 'darkBrown', 'black', 'grey'] as const;
const textures = ['coarse', 'medium', 'fine'] as const;

export function FieldForm({ row }: { row: FieldRow }) {
  const { id, body } = row.field;
  const put = (set: Values) => edit('field', id, set, id);
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
          needed
          tidy={(v) => v.trim()}
          put={(v) => put({ name: v })}
        />
        <Choice
          label={t('col.grower')}
          value={body.grower}
          options={growers}
          put={(v) => put({ grower: v })}
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
          put={(v) => put({ soilZone: v || null })}
        />
        <Choice
          label={t('fieldForm.texture')}
          value={body.texture ?? ''}
          options={choices('texture', textures)}
          put={(v) => put({ texture: v || null })}
        />
        <Tick
          label={t('fieldForm.lime')}
          value={!!body.freeLime}
          put={(on) => put({ freeLime: on })}
        />
        <RootRotEntries id={id} known={body.rootRot} />
      </div>
      <GrowerMap row={row} />
      <Outline id={id} has={body.outline !== undefined} />
      <GrowerName row={row} />
      <div class="row">
        <PutAway rec={row.field} gone={leave} />
        {row.grower && <PutAway rec={row.grower} gone={leave} />}
      </div>
    </section>
  );
}

/** What is known of root rot on this ground; a test that found none is known too. */
function RootRotEntries({ id, known }: { id: string; known: RootRot | undefined }) {
  const put = (set: RootRot) =>
    edit<Field>('field', id, (now) => ({ rootRot: { ...now.rootRot, ...set } }), id);
  const found = known?.confirmed ? 'found' : known?.tested ? 'clear' : '';
  return (
    <>
      <Choice
        label={t('rootRot.test')}
        value={found}
        options={[
          ['', t('rootRot.untested')],
          ['clear', t('rootRot.clear')],
          ['found', t('rootRot.found')],
        ]}
        put={(v) => put({ tested: v !== '', confirmed: v === 'found' })}
      />
      <Tick
        label={t('rootRot.wetHost')}
        value={!!known?.wetHost}
        put={(wetHost) => put({ wetHost })}
      />
    </>
  );
}

function GrowerName({ row }: { row: FieldRow }) {
  const { grower } = row;
  if (!grower) return null;
  return (
    <TextField
      label={t('fieldForm.growerName')}
      value={grower.body.name}
      needed
      tidy={(v) => v.trim()}
      put={(name) => edit('grower', grower.id, { name })}
    />
  );
}

function Outline({ id, has }: { id: string; has: boolean }) {
  return (
    <p>
      {has ? t('fieldForm.hasOutline') : t('fieldForm.noOutline')}{' '}
      <a class="button" href={`/field/${id}/outline`}>
        {t('fieldForm.makeOutline')}
      </a>
    </p>
  );
}
