// The running result of an open dig: the same engine, asked again after every plant.
import { effect, signal, type Signal } from '@preact/signals';
import { digOf, plantCount } from '../dig/draft';
import { digPartOf } from '../engine/bridge';
import type { DigPart } from '../wire.gen';
import { drafts } from './dig';
import { caseOf } from './records';

const parts = new Map<string, Signal<DigPart | undefined>>();

/** What the open dig of a field says so far; undefined before the first whole plant. */
export function running(field: string): Signal<DigPart | undefined> {
  const known = parts.get(field);
  if (known) return known;
  const part = signal<DigPart | undefined>(undefined);
  parts.set(field, part);
  let last = '';
  effect(() => {
    const draft = drafts.value.get(field);
    const body = draft && plantCount(draft) > 0 ? digOf(draft) : undefined;
    const asked = JSON.stringify(body ?? null);
    if (asked === last) return;
    last = asked;
    if (!draft || !body) {
      part.value = undefined;
      return;
    }
    const records = [...caseOf(field), { id: draft.id, kind: 'dig', body }];
    void digPartOf(records, field, draft.cropYear, draft.id).then(
      (found) => {
        if (asked === last) part.value = found;
      },
      () => undefined, // what it said before stands; the closed dig's page tells what is wrong
    );
  });
  return part;
}
