// What is said against a value where it was given. It stands as long as the value on the screen is
// not the one that is kept.
import { useSignal } from '@preact/signals';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { problemWords } from '../state/problem';
import { t } from '../state/words';
import type { Problem } from '../wire.gen';

/** What comes of keeping a value: nothing = kept, or what the engine has against it. */
export type Answer = Promise<Problem | undefined> | undefined;

/** The refusal of one control; another value kept under it, here or elsewhere, ends it. */
export function useRefusal(kept: unknown) {
  const refused = useSignal('');
  const last = useRef(0);
  useLayoutEffect(() => {
    refused.value = '';
  }, [kept]);
  const refuse = (words: string) => {
    last.current++;
    refused.value = words;
  };
  const ask = async (answer: Answer) => {
    const mine = ++last.current;
    const problem = await answer;
    if (mine !== last.current) return;
    refused.value = problem ? t('form.refused', { why: problemWords(problem) }) : '';
  };
  return { refused: refused.value, ask, refuse };
}
