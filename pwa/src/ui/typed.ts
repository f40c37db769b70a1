// What is being typed into a form that is kept as a whole. It lies on the disk meanwhile, so that a
// call, a reload or a kill takes none of it; of another day it is not offered again.
import { effect, useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { today } from '../state/records';
import { open } from '../state/session';

interface Kept<T> {
  day: string;
  typed: T;
}

/** The values of a form; set back to `blank`, they leave the disk too. */
export function useTyped<T extends object>(key: string, blank: T): Signal<T> {
  const typed = useSignal(blank);
  useEffect(() => {
    const store = open.peek()?.store;
    if (!store) return undefined;
    let [left, end] = [false, (): void => undefined];
    const write = (now: T) =>
      now === blank ? store.dropDraft(key) : store.putDraft(key, { day: today.peek(), typed: now });
    void store
      .draft(key)
      .then((found) => {
        const kept = found as Kept<T> | undefined;
        if (kept?.day === today.peek() && typed.peek() === blank) typed.value = kept.typed;
        let last = typed.peek();
        const follow = () => {
          if (typed.value === last) return;
          last = typed.value;
          void write(last).catch(() => undefined); // the form itself stands; keeping it will say
        };
        if (!left) end = effect(follow);
      })
      .catch(() => undefined);
    return () => {
      left = true;
      end();
    };
  }, [key]);
  return typed;
}
