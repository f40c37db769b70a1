// The search over all fields, by field or grower: the same on the phone and at the desk.
import type { Signal } from '@preact/signals';
import { t } from '../state/words';
import { TextField } from './form';

export function FieldSearch({ sought }: { sought: Signal<string> }) {
  return (
    <TextField
      label={t('fields.search')}
      value={sought.value}
      type="search"
      live
      onChange={(v) => (sought.value = v)}
    />
  );
}
