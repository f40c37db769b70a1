// Work that a second tap must not do twice: an entry is made anew by each.
import { useSignal } from '@preact/signals';

/** Gives what runs work, and nothing more until it is done. */
export function useOnce(): (work: () => Promise<unknown>) => void {
  const busy = useSignal(false);
  return (work) => {
    if (busy.peek()) return;
    busy.value = true;
    void work().finally(() => (busy.value = false));
  };
}
