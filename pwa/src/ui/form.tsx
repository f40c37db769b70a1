// Form controls. A number is typed as text, so that a comma, a gap or a letter can be answered
// with a sentence instead of being swallowed.
import { useSignal } from '@preact/signals';
import { useEffect, useId } from 'preact/hooks';
import type { ComponentChildren, InputHTMLAttributes } from 'preact';
import { locale, showDate, showUnit, t } from '../state/words';

interface Common {
  label: string;
  hint?: string;
  error?: string | undefined;
}

interface TextProps extends Common {
  value: string;
  onChange: (value: string) => void;
  type?: 'text' | 'password' | 'date' | 'search';
  autoComplete?: string;
  decimal?: boolean;
  unit?: string;
  placeholder?: string | undefined;
  /** Calls onChange with every letter, for a search. */
  live?: boolean;
  /** What stands in it is not what would be kept. */
  open?: boolean;
}

/** Whether something in a form is not yet said: then the form is not to be kept, and it is shown. */
export function isOpen(form: Element | null | undefined): boolean {
  const found = form?.querySelector('[data-open]');
  if (!(found instanceof HTMLElement)) return false;
  found.scrollIntoView({ block: 'center' });
  found.focus();
  return true;
}

/** A line of text. onChange comes when the person leaves it or presses Enter. */
export function TextField(p: TextProps) {
  const id = useId();
  const typed = useSignal(p.value);
  useEffect(() => {
    typed.value = p.value;
  }, [p.value]);
  const described = p.error || p.hint ? `${id}-say` : undefined;
  const attributes = {
    id,
    type: p.type ?? 'text',
    value: typed.value,
    autoComplete: p.autoComplete ?? 'off',
    placeholder: p.placeholder,
    inputMode: p.decimal ? 'decimal' : undefined,
    'aria-invalid': p.error ? 'true' : undefined,
    'data-open': p.open ? '' : undefined,
    'aria-describedby': described,
    onInput: (e) => {
      typed.value = e.currentTarget.value;
      if (p.live) p.onChange(e.currentTarget.value);
    },
    onChange: (e) => p.onChange(e.currentTarget.value),
  } as InputHTMLAttributes<HTMLInputElement>;
  return (
    <div class={p.error ? 'entry wrong' : 'entry'}>
      <label for={id}>{p.label}</label>
      <span class="entry-line">
        <input {...attributes} />
        {p.unit && <span class="unit">{showUnit(p.unit)}</span>}
      </span>
      {p.type === 'date' && typed.value !== '' && (
        <p class="hint date-words">{showDate(typed.value)}</p>
      )}
      <Say id={described} error={p.error} hint={p.hint} />
    </div>
  );
}

function Say({
  id,
  error,
  hint,
}: {
  id: string | undefined;
  error: string | undefined;
  hint: string | undefined;
}) {
  if (error)
    return (
      <p id={id} class="error" role="alert">
        {error}
      </p>
    );
  return hint ? (
    <p id={id} class="hint">
      {hint}
    </p>
  ) : null;
}

/** A number from what a person typed: a decimal comma is fine, blanks are fine; NaN otherwise. */
export function parseNumber(typed: string): number {
  const plain = typed.replaceAll(/[\s\u00a0\u202f]/g, '').replace(',', '.');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : Number.NaN;
}

interface NumberProps extends Common {
  value: number | undefined;
  onChange: (value: number | undefined) => void;
  unit?: string;
  placeholder?: string | undefined;
}

/** The number as a person types it: with a comma in French, and with every digit it has. */
export const asTyped = (value: number): string =>
  locale() === 'fr-CA' ? String(value).replace('.', ',') : String(value);

/** A number with its unit in view. Empty stays unknown, never zero. */
export function NumberField({ value, onChange, ...rest }: NumberProps) {
  const bad = useSignal('');
  const put = (typed: string) => {
    const number = parseNumber(typed);
    bad.value = typed.trim() !== '' && Number.isNaN(number) ? t('form.notNumber', { typed }) : '';
    if (typed.trim() === '') onChange(undefined);
    else if (!Number.isNaN(number)) onChange(number);
  };
  const shown = value === undefined ? '' : asTyped(value);
  return (
    <TextField {...rest} decimal value={shown} onChange={put} error={bad.value || rest.error} open={bad.value !== ''} />
  );
}

interface ChoiceProps extends Common {
  value: string;
  options: readonly (readonly [string, string])[];
  onChange: (value: string) => void;
  short?: boolean;
}

export function Choice({ label, value, options, onChange, error, hint, short }: ChoiceProps) {
  const id = useId();
  const described = error || hint ? `${id}-say` : undefined;
  return (
    <div class={`entry${error ? ' wrong' : ''}${short ? ' short' : ''}`}>
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        aria-describedby={described}
        onChange={(e) => onChange(e.currentTarget.value)}
      >
        {options.map(([key, words]) => (
          <option key={key} value={key} selected={key === value}>
            {words}
          </option>
        ))}
      </select>
      <Say id={described} error={error} hint={hint} />
    </div>
  );
}

/** Options side by side, each a target of its own. */
export function Picks({ label, value, options, onChange }: ChoiceProps) {
  return (
    <fieldset class="picks">
      <legend>{label}</legend>
      {options.map(([key, words]) => (
        <button key={key} type="button" aria-pressed={key === value} onClick={() => onChange(key)}>
          {words}
        </button>
      ))}
    </fieldset>
  );
}

export function Tick({
  label,
  value,
  onChange,
}: {
  label: string;
  value: boolean;
  onChange: (on: boolean) => void;
}) {
  return (
    <label class="tick-line">
      <input type="checkbox" checked={value} onChange={(e) => onChange(e.currentTarget.checked)} />
      <span>{label}</span>
    </label>
  );
}

/** A form whose one loud button does the work; Enter does it too. */
export function Form({
  onSubmit,
  children,
}: {
  onSubmit: () => void;
  children: ComponentChildren;
}) {
  const submit = (event: Event) => {
    event.preventDefault();
    // Leaving the last line first, so that its value is in.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    const form = event.currentTarget;
    // After the blur has been drawn, so that what it found wrong counts.
    setTimeout(() => isOpen(form instanceof Element ? form : null) || onSubmit());
  };
  return (
    <form noValidate onSubmit={submit}>
      {children}
    </form>
  );
}
