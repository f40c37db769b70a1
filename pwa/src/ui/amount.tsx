// A quantity in a form: the number and its unit, side by side.
import { useSignal } from '@preact/signals';
import { useEffect, useLayoutEffect } from 'preact/hooks';
import type { Quantity } from '../wire.gen';
import { loadEngineWords, showUnit, t } from '../state/words';
import { asTyped, Choice, NumberField } from './form';
import { useRefusal, type Answer } from './refusal';

interface AmountProps {
  label: string;
  units: readonly string[];
  value: Quantity | undefined;
  put: (value: Quantity | null) => Answer;
  /** What is kept cannot be taken away, only changed. */
  needed?: boolean;
  /** What counts where nothing is entered here. */
  otherwise?: Quantity | undefined;
  /** What units are called, and what their choice is, where they are no units of measure. */
  unitWords?: (unit: string) => string;
  unitLabel?: string;
  /** No unit is likelier than the others: it is chosen, not assumed. */
  unitAsked?: boolean;
}

/**
 * A number and its unit, kept as they were given. The two are one value: a unit chosen before there
 * is a number, or right after it, goes with it.
 */
export function Amount(p: AmountProps) {
  const { label, units, value, put, otherwise } = p;
  useEffect(loadEngineWords, []); // the units are among them
  const given = useSignal<{ value?: number; unit?: string }>(value ?? {});
  useLayoutEffect(() => {
    // Emptied here, it keeps the unit that is in view: what is typed next is meant in it.
    const emptied = given.peek().value === undefined ? given.peek() : {};
    given.value = value ?? emptied;
  }, [value?.value, value?.unit]);
  const { refused, ask, refuse } = useRefusal(value && `${value.value} ${value.unit}`);
  const unit = given.value.unit ?? otherwise?.unit ?? (p.unitAsked ? '' : units[0]) ?? '';
  const unitLabel = p.unitLabel ?? t('form.unitOf', { label });
  const give = (number: number | undefined, of: string) => {
    if (p.needed && number === undefined) return refuse(t('form.needed'));
    if (number !== undefined && of === '') {
      given.value = { value: number };
      return refuse(t('form.unitOpen', { label: unitLabel }));
    }
    given.value = number === undefined ? { unit: of } : { value: number, unit: of };
    void ask(put(number === undefined ? null : { value: number, unit: of }));
  };
  return (
    <div class={unit === '' ? 'amount unsaid' : 'amount'}>
      <NumberField
        label={label}
        value={value?.value}
        placeholder={otherwise && asTyped(otherwise.value)}
        {...(otherwise && !value ? { hint: t('form.fromAccount') } : {})}
        error={refused}
        open={refused !== ''}
        onChange={(number) => give(number, unit)}
      />
      <Choice
        short
        label={unitLabel}
        value={unit}
        options={[
          ...(unit === '' ? [['', t('form.notSaid')] as const] : []),
          ...units.map((u) => [u, (p.unitWords ?? showUnit)(u)] as const),
        ]}
        onChange={(of) => {
          if (given.value.value === undefined) given.value = { unit: of };
          else give(given.value.value, of);
        }}
      />
    </div>
  );
}
