// What the engine or the server has against an entry, said beside the form it stands in.
import { useSignal } from '@preact/signals';
import type { Problem } from '../wire.gen';
import { problemWords } from '../state/problem';
import { t } from '../state/words';

export function ProblemLine({ problem }: { problem: Problem | undefined }) {
  if (!problem) return null;
  return (
    <p class="error" role="alert">
      {t('form.notKept', { why: problemWords(problem) })}
    </p>
  );
}

/** The state of one form: what was last said against it. */
export function useProblem() {
  const problem = useSignal<Problem | undefined>(undefined);
  const run = (work: Promise<Problem | undefined>) => void work.then((p) => (problem.value = p));
  return { problem: problem.value, run };
}
