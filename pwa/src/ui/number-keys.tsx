// A number of nodules, by keys. An odd one is asked about before it counts; what cannot be, like more
// pink nodules than nodules, is said at once.
import { useSignal } from '@preact/signals';
import { oddNumber, type NumberStep, type Started } from '../dig/draft';
import { t } from '../state/words';
import { Keypad } from './keypad';

interface Props {
  plant: Started;
  step: NumberStep;
  canUndo: boolean;
  onDigit: (digit: string) => void;
  onUndo: () => void;
  /** The digits are typed anew. */
  onAgain: () => void;
  onDone: (typed: string) => void;
}

export function NumberKeys({ plant, step, canUndo, onDigit, onUndo, onAgain, onDone }: Props) {
  const asked = useSignal(false);
  const { typed = '' } = plant;
  const odd = typed === '' ? undefined : oddNumber(plant, step, Number(typed));
  const done = () => {
    if (odd) asked.value = true;
    else onDone(typed);
  };
  const end = (work: () => void) => () => {
    asked.value = false;
    work();
  };
  if (!asked.value || !odd)
    return (
      <Keypad typed={typed} canUndo={canUndo} onDigit={onDigit} onUndo={onUndo} onDone={done} />
    );
  return (
    <>
      <p class="notice" role="alert">
        {odd === 'many' ? t('odd.many', { n: typed }) : t('odd.over', { n: typed, of: plant.count ?? 0 })}
      </p>
      <div class="keys one">
        <button type="button" class="key-button" onClick={end(onAgain)}>
          {t('odd.change')}
        </button>
        {odd === 'many' && (
          <button type="button" class="key-button" onClick={end(() => onDone(typed))}>
            {t('odd.keep')}
          </button>
        )}
      </div>
    </>
  );
}
