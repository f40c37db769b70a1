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

interface Props {
  step: Step;
  /** The same function every time, so that a tap draws no key anew. */
  onKey: (answer: string) => void;
}

/**
 * The keys of all questions stand in the page, and one question's show: on a slow phone, making
 * their drawings anew at each tap took longer than everything else the tap needs.
 */
export function Keys({ step, onKey }: Props) {
  return (
    <>
      {(Object.keys(answers) as Step[]).map((of) => (
        <div key={of} class="keys" hidden={of !== step}>
          <StepKeys step={of} onKey={onKey} />
        </div>
      ))}
    </>
  );
}

function StepKeys({ step, onKey }: Props) {
  return (
    <>
      {answers[step].map((answer) => (
        <button
          key={answer}
          type="button"
          class="key-button"
          data-answer={answer || 'notCut'}
          onClick={() => onKey(answer)}
        >
          <Picture step={step} answer={answer} />
          <span>{t(`${step}.${answer || 'notCut'}` as Key)}</span>
        </button>
      ))}
    </>
  );
}
