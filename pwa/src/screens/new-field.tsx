// Adding a field, and with it, where there is none yet, its grower.
import { signal, useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { all } from '../state/records';
import { make } from '../state/edit';
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
  const grower = useSignal(growers[0]?.id ?? newGrower);
  const growerName = useSignal('');
  const name = useSignal('');
  const area = useSignal<number | undefined>(undefined);
  const unit = useSignal('ac');
  const error = useSignal('');
  const { route } = useLocation();
  const options = [
    ...growers.map((g) => [g.id, g.body.name] as const),
    [newGrower, t('newField.newGrower')] as const,
  ];
  const add = async () => {
    const lacks =
      name.value.trim() === '' || (grower.value === newGrower && growerName.value.trim() === '');
    error.value = lacks ? t('newField.lacks') : '';
    if (lacks) return;
    const owner =
      grower.value === newGrower
        ? await make('grower', { name: growerName.value.trim() })
        : grower.value;
    if (!owner) return;
    const size = area.value === undefined ? {} : { area: { value: area.value, unit: unit.value } };
    const id = await make('field', { grower: owner, name: name.value.trim(), ...size });
    asked.value = false;
    if (id) route(`/field/${id}`);
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
