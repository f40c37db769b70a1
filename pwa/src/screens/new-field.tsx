// Adding a field, and with it, where there is none yet, its grower.
import { signal, useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { all } from '../state/records';
import { newId } from '../id';
import { beyond } from '../state/bound';
import { keep } from '../state/keep';
import { problemWords } from '../state/problem';
import { t } from '../state/words';
import { Choice, Form, NumberField, TextField } from '../ui/form';

const asked = signal(false);

export function NewField() {
  if (!asked.value) {
    return (
      <button type="button" onClick={() => (asked.value = true)}>
        {t('newField.ask')}
      </button>
    );
  }
  return <NewFieldForm />;
}

const newGrower = 'new';

function NewFieldForm() {
  const growers = all('grower').filter((g) => !g.body.archived);
  const grower = useSignal(growers.length === 0 ? newGrower : '');
  const growerName = useSignal('');
  const name = useSignal('');
  const area = useSignal<number | undefined>(undefined);
  const unit = useSignal('ac');
  const error = useSignal('');
  const { route } = useLocation();
  const options = [
    ...(growers.length > 0 ? [['', t('form.notSaid')] as const] : []),
    ...growers.map((g) => [g.id, g.body.name] as const),
    [newGrower, t('newField.newGrower')] as const,
  ];
  const add = async () => {
    const lacks =
      name.value.trim() === '' ||
      grower.value === '' ||
      (grower.value === newGrower && growerName.value.trim() === '');
    error.value = lacks ? t('newField.lacks') : '';
    if (lacks) return;
    const [id, owner] = [newId(Date.now()), newId(Date.now())];
    const isNew = grower.value === newGrower;
    const size = area.value === undefined ? {} : { area: { value: area.value, unit: unit.value } };
    const made = [
      ...(isNew ? [{ rec: owner, kind: 'grower', base: 0, set: { name: growerName.value.trim() } }] : []),
      {
        rec: id,
        kind: 'field',
        base: 0,
        set: { grower: isNew ? owner : grower.value, name: name.value.trim(), ...size },
      },
    ];
    const wrong = made.map((m) => beyond(m.kind, m.set)).find((p) => p !== undefined);
    error.value = wrong ? t('form.notKept', { why: problemWords(wrong) }) : '';
    // Both at once: a grower without the field that was meant would be half of it.
    if (wrong || !(await keep(made))) return;
    asked.value = false;
    route(`/field/${id}`);
  };
  return (
    <Form onSubmit={() => void add()}>
      <h2>{t('newField.title')}</h2>
      <div class="entries">
        <Choice
          label={t('col.grower')}
          value={grower.value}
          options={options}
          onChange={(v) => (grower.value = v)}
        />
        {grower.value === newGrower && (
          <TextField
            label={t('newField.growerName')}
            value={growerName.value}
            onChange={(v) => (growerName.value = v)}
          />
        )}
        <TextField
          label={t('newField.name')}
          value={name.value}
          onChange={(v) => (name.value = v)}
        />
        <NumberField label={t('col.area')} value={area.value} onChange={(v) => (area.value = v)} />
        <Choice
          short
          label={t('newField.unit')}
          value={unit.value}
          options={[
            ['ac', 'ac'],
            ['ha', 'ha'],
          ]}
          onChange={(v) => (unit.value = v)}
        />
      </div>
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      <button type="submit" class="loud">
        {t('newField.add')}
      </button>
      <button type="button" onClick={() => (asked.value = false)}>
        {t('form.cancel')}
      </button>
    </Form>
  );
}
