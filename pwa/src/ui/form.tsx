// Form controls. A number is typed as text, so that a comma, a gap or a letter can be answered
// with a sentence instead of being swallowed. A form that is kept as a whole is told of a value by
// onChange; one that keeps each value as it is given, by put.
import { useSignal } from '@preact/signals';
import { useId, useLayoutEffect } from 'preact/hooks';
import type { ButtonHTMLAttributes, ComponentChildren, InputHTMLAttributes } from 'preact';
import { locale, showDate, showUnit, t, type Key } from '../state/words';
import { useRefusal, type Answer } from './refusal';

interface Common {
  label: string;
  hint?: string;
  error?: string | undefined;
}

interface TextProps extends Common {
  value: string;
  onChange?: (value: string) => void;
  put?: (value: string) => Answer;
  /** What is kept cannot be taken away, only changed. */
  needed?: boolean;
  type?: 'text' | 'password' | 'date' | 'search';
  autoComplete?: string;
  decimal?: boolean;
  unit?: string;
  placeholder?: string | undefined;
  /** Calls onChange with every letter, for a search. */
  live?: boolean;
  /** What stands in it is not what would be kept. */
  open?: boolean;
  /** How what was typed is written when it is left, so that the box shows what is kept. */
  tidy?: (typed: string) => string;
}

/** Once what was just found out stands in the page. */
export const drawn = (): Promise<void> =>
  new Promise((done) => requestAnimationFrame(() => setTimeout(done)));

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
  const { refused, ask, refuse } = useRefusal(p.value);
  // Before anything can be typed: later, it would take the first letters out again.
  useLayoutEffect(() => {
    typed.value = p.value;
  }, [p.value]);
  const error = p.error || refused;
  const described = error || p.hint ? `${id}-say` : undefined;
  const leave = (said: string) => {
    const value = p.tidy ? p.tidy(said) : said;
    typed.value = value;
    p.onChange?.(value);
    if (p.needed && value.trim() === '') refuse(t('form.needed'));
    else void ask(p.put?.(value));
  };
  const attributes = {
    id,
    type: p.type ?? 'text',
    value: typed.value,
    autoComplete: p.autoComplete ?? 'off',
    placeholder: p.placeholder,
    inputMode: p.decimal ? 'decimal' : undefined,
    'aria-invalid': error ? 'true' : undefined,
    'data-open': p.open || refused ? '' : undefined,
    'aria-describedby': described,
    onInput: (e) => {
      typed.value = e.currentTarget.value;
      if (p.live) p.onChange?.(e.currentTarget.value);
    },
    onChange: (e) => leave(e.currentTarget.value),
  } as InputHTMLAttributes<HTMLInputElement>;
  return (
    <div class={error ? 'entry wrong' : 'entry'}>
      <label for={id}>{p.label}</label>
      <span class="entry-line">
        <input {...attributes} />
        {p.unit && <span class="unit">{showUnit(p.unit)}</span>}
      </span>
      {p.type === 'date' && typed.value !== '' && (
        <p class="hint date-words">{showDate(typed.value)}</p>
      )}
      <Say id={described} error={error} hint={p.hint} />
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
  onChange?: (value: number | undefined) => void;
  put?: (value: number | undefined) => Answer;
  needed?: boolean;
  open?: boolean;
  unit?: string;
  placeholder?: string | undefined;
}

/** The number as a person types it: with a comma in French, and with every digit it has. */
export const asTyped = (value: number): string =>
  locale() === 'fr-CA' ? String(value).replace('.', ',') : String(value);

/** A number with its unit in view. Empty stays unknown, never zero. */
export function NumberField({ value, onChange, put, ...rest }: NumberProps) {
  const bad = useSignal('');
  const take = (typed: string): Answer => {
    const number = typed.trim() === '' ? undefined : parseNumber(typed);
    bad.value = Number.isNaN(number) ? t('form.notNumber', { typed }) : '';
    if (bad.value !== '') return undefined;
    onChange?.(number);
    return put?.(number);
  };
  const shown = value === undefined ? '' : asTyped(value);
  return (
    <TextField
      {...rest}
      decimal
      value={shown}
      put={take}
      error={bad.value || rest.error}
      open={bad.value !== '' || !!rest.open}
    />
  );
}

interface ChoiceProps extends Common {
  value: string;
  options: readonly (readonly [string, string])[];
  onChange?: (value: string) => void;
  put?: (value: string) => Answer;
  needed?: boolean;
  short?: boolean;
}

export function Choice({ label, value, options, onChange, put, hint, short, ...p }: ChoiceProps) {
  const id = useId();
  const { refused, ask, refuse } = useRefusal(value);
  const error = p.error || refused;
  const take = (chosen: string) => {
    onChange?.(chosen);
    if (p.needed && chosen === '') refuse(t('form.needed'));
    else void ask(put?.(chosen));
  };
  const described = error || hint ? `${id}-say` : undefined;
  return (
    <div class={`entry${error ? ' wrong' : ''}${short ? ' short' : ''}`}>
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        aria-invalid={error ? 'true' : undefined}
        aria-describedby={described}
        onChange={(e) => take(e.currentTarget.value)}
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

/** The words of a family as the options of a choice, with "not said" before them. */
export const choices = (
  family: string,
  keys: readonly string[],
): (readonly [string, string])[] => [
  ['', t('form.notSaid')],
  ...keys.map((k) => [k, t(`${family}.${k}` as Key)] as const),
];

/** Options side by side, each a target of its own. */
export function Picks({
  label,
  value,
  options,
  onChange,
}: Common & {
  value: string;
  options: ChoiceProps['options'];
  onChange: (value: string) => void;
}) {
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
  put,
}: {
  label: string;
  value: boolean;
  put: (on: boolean) => Answer;
}) {
  const { refused, ask } = useRefusal(value);
  return (
    <>
      <label class="tick-line">
        <input type="checkbox" checked={value} onChange={(e) => void ask(put(e.currentTarget.checked))} />
        <span>{label}</span>
      </label>
      <Say id={undefined} error={refused} hint={undefined} />
    </>
  );
}

interface ActProps extends ButtonHTMLAttributes {
  does: () => Answer;
}

/** A button that changes what is kept; what is said against it stands below it. */
export function Act({ does, children, ...rest }: ActProps) {
  const { refused, ask } = useRefusal(undefined);
  return (
    <>
      <button type="button" {...rest} onClick={() => void ask(does())}>
        {children}
      </button>
      <Say id={undefined} error={refused} hint={undefined} />
    </>
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
    void drawn().then(() => isOpen(form instanceof Element ? form : null) || onSubmit());
  };
  return (
    <form noValidate onSubmit={submit}>
      {children}
    </form>
  );
}
