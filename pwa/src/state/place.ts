// Phone or desk: one program, two ways to lay it out.
import { signal } from '@preact/signals';

const deskQuery = globalThis.matchMedia?.('(min-width: 900px)'); // unit tests have none

export const atDesk = signal(deskQuery?.matches ?? false);
deskQuery?.addEventListener('change', (event) => (atDesk.value = event.matches));
