// The big keys of a dig: a drawing and a word each.
import type { Step } from '../dig/draft';
import { t, type Key } from '../state/words';
import { Clusters, NoduleCut, RootPosition, Vigour } from './drawing';

/** The answers to each question, as the score card orders them. */
export const answers: Record<Step, readonly string[]> = {
  vigour: ['vigorous', 'small', 'pale', 'yellow'],
  nodules: ['over5', '3to5', 'under3', 'none'],
  inside: ['pink', 'white', 'green', 'brown', ''],
  position: ['crownAndLateral', 'mostlyCrown', 'mostlyLateral'],
};

function Picture({ step, answer }: { step: Step; answer: string }) {
  if (step === 'vigour') return <Vigour vigour={answer} />;
  if (step === 'nodules') return <Clusters nodules={answer} />;
  if (step === 'inside') return <NoduleCut inside={answer} />;
  return <RootPosition position={answer} />;
}

export function Keys({ step, onKey }: { step: Step; onKey: (answer: string) => void }) {
  return (
    <div class="keys">
      {answers[step].map((answer) => (
        <button
          key={step + answer}
          type="button"
          class="key-button"
          data-answer={answer || 'notCut'}
          onClick={() => onKey(answer)}
        >
          <Picture step={step} answer={answer} />
          <span>{t(`${step}.${answer || 'notCut'}` as Key)}</span>
        </button>
      ))}
    </div>
  );
}
