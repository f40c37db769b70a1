// The one thing that may fill the screen: an entry that is not kept, and why.
import { signal } from '@preact/signals';

export type Trouble = 'full' | 'failed' | 'emptied';

/** Set when a write failed: said over the whole screen until a person has read it. */
export const notKept = signal<Trouble | undefined>(undefined);
