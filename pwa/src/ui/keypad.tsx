// A keypad of big keys for a number, under the thumb. No system keyboard comes up over the screen.
import { t } from '../state/words';

interface Props {
  /** Digits so far; empty at first. */
  typed: string;
  onDigit: (digit: string) => void;
  onUndo: () => void;
  /** undefined = nothing to undo */
  canUndo: boolean;
  onDone: () => void;
}

const digits = ['1', '2', '3', '4', '5', '6', '7', '8', '9'] as const;

export function Keypad({ typed, onDigit, onUndo, canUndo, onDone }: Props) {
  return (
    <div class="keypad">
      {digits.map((d) => (
        <Digit key={d} digit={d} onDigit={onDigit} />
      ))}
      <button type="button" class="key-button" disabled={!canUndo} onClick={onUndo}>
        {t('dig.undo')}
      </button>
      <Digit digit="0" onDigit={onDigit} />
      <button
        type="button"
        class="key-button loud"
        data-key="done"
        disabled={typed === ''}
        onClick={onDone}
      >
        {t('keypad.done')}
      </button>
    </div>
  );
}

function Digit({ digit, onDigit }: { digit: string; onDigit: (digit: string) => void }) {
  return (
    <button
      type="button"
      class="key-button"
      data-digit={digit}
      onClick={() => onDigit(digit)}
    >
      {digit}
    </button>
  );
}
