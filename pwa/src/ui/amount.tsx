// A quantity in a form: the number and its unit, side by side.
import { useEffect } from 'preact/hooks';
import type { Quantity } from '../wire.gen';
import { loadEngineWords, showUnit, t } from '../state/words';
import { asTyped, Choice, NumberField } from './form';

interface AmountProps {
  label: string;
  units: readonly string[];
  value: Quantity | undefined;
  put: (value: Quantity | null) => void;
  /** What counts where nothing is entered here. */
  otherwise?: Quantity | undefined;
}

/** A number and its unit, kept as they were given. */
export function Amount({ label, units, value, put, otherwise }: AmountProps) {
  useEffect(loadEngineWords, []); // the units are among them
  const unit = value?.unit ?? otherwise?.unit ?? units[0] ?? '';
  return (
    <div class="amount">
      <NumberField
        label={label}
        value={value?.value}
        placeholder={otherwise && asTyped(otherwise.value)}
        {...(otherwise && !value ? { hint: t('form.fromAccount') } : {})}
        onChange={(v) => put(v === undefined ? null : { value: v, unit })}
      />
      <Choice
        short
        label={t('form.unitOf', { label })}
        value={unit}
        options={units.map((u) => [u, showUnit(u)] as const)}
        onChange={(u) => value && put({ ...value, unit: u })}
      />
    </div>
  );
}
