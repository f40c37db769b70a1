// A keypad of big keys for a number, under the thumb. No system keyboard comes up over the screen.
import { t } from '../state/words';

interface Props {
  /** Digits so far; empty at first. */
  typed: string;
  onDigit: (digit: string) => void;
  onUndo: () => void;
  /** There is something to undo. */
  canUndo: boolean;
  onDone: () => void;
  /** Nothing more can be counted. */
  full?: boolean;
}

const digits = ['1', '2', '3', '4', '5', '6', '7', '8', '9'] as const;

export function Keypad({ typed, onDigit, onUndo, canUndo, onDone, full }: Props) {
  return (
    <div class="keypad">
      {digits.map((d) => (
        <Digit key={d} digit={d} onDigit={onDigit} full={full} />
      ))}
      <button type="button" class="key-button" disabled={!canUndo} onClick={onUndo}>
        {t('dig.undo')}
      </button>
      <Digit digit="0" onDigit={onDigit} full={full} />
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

interface DigitProps extends Pick<Props, 'onDigit'> {
  digit: string;
  full: boolean | undefined;
}

function Digit({ digit, onDigit, full }: DigitProps) {
  return (
    <button
      type="button"
      class="key-button"
      data-digit={digit}
      disabled={!!full}
      onClick={() => onDigit(digit)}
    >
      {digit}
    </button>
  );
}
