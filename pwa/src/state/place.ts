// Phone or desk: one program, two ways to lay it out.
import { signal } from '@preact/signals';

const deskQuery = matchMedia('(min-width: 900px)');

export const atDesk = signal(deskQuery.matches);
deskQuery.addEventListener('change', (event) => (atDesk.value = event.matches));
