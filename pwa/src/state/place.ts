// Phone or desk: one program, two ways to lay it out.
import { signal } from '@preact/signals';

const deskQuery = globalThis.matchMedia?.('(min-width: 900px)'); // unit tests have none

export const atDesk = signal(deskQuery?.matches ?? false);
// A sheet of paper is narrower than a desk: printed is what stands on the screen.
deskQuery?.addEventListener('change', (event) => {
  if (!matchMedia('print').matches) atDesk.value = event.matches;
});
