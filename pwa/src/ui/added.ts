// One more entry of a list in a form. It is held back until what it cannot be without is said, so that
// nothing the form made up is kept.
import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { Answer } from './refusal';

/** How a list becomes another one. */
export type PutList<T> = (change: (now: readonly T[]) => readonly T[]) => Answer;

interface Adding<Row, Whole extends Row> {
  /** Where in the list it will stand. */
  at: number;
  put: PutList<Whole>;
  isWhole: (row: Row) => row is Whole;
  first?: Row | undefined;
}

export function useAdded<Row, Whole extends Row>({ at, put, isWhole, first }: Adding<Row, Whole>) {
  const row = useSignal<Row | undefined>(first);
  const going = useRef<Answer>(undefined);
  const fill = async (how: (row: Row) => Row) => {
    // While it is being kept, what is said next is said of the one that is kept, not of a second one.
    if (going.current && !(await going.current)) {
      const one = (x: Whole): Whole => {
        const next = how(x);
        return isWhole(next) ? next : x;
      };
      return put((now) => now.map((x, i) => (i === at ? one(x) : x)));
    }
    if (row.value === undefined) return undefined;
    const next = how(row.value);
    row.value = next;
    if (!isWhole(next)) return undefined;
    going.current = Promise.resolve(put((now) => [...now, next]));
    const problem = await going.current;
    going.current = undefined;
    if (!problem) row.value = undefined;
    return problem;
  };
  return { row, fill };
}
