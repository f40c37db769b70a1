// Work that a second tap must not do twice.
import { useSignal } from '@preact/signals';

/** An entry is made anew by each tap: gives what runs work, and nothing more until it is done. */
export function useOnce(): (work: () => Promise<unknown>) => void {
  const busy = useSignal(false);
  return (work) => {
    if (busy.peek()) return;
    busy.value = true;
    void work().finally(() => (busy.value = false));
  };
}

/** Wet screens send a second tap within a few hundredths of a second; it is not a person's. */
const ghostMS = 80;
let lastTapMS = 0;

/** A tap that answers a question, unless a wet screen made it: the next question stands there by now. */
export function tapped(work: () => void): void {
  const now = performance.now();
  if (now - lastTapMS < ghostMS) return;
  lastTapMS = now;
  work();
  navigator.vibrate?.(12);
}
