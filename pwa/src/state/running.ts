// The running result of an open dig: the same engine, asked again after every plant.
import { effect, signal, type Signal } from '@preact/signals';
import { digOf, plantCount, type DigDraft } from '../dig/draft';
import { digPartOf, NoCase } from '../engine/bridge';
import type { DigPart, Problem } from '../wire.gen';
import { drafts } from './dig';
import { caseOf } from './records';

const parts = new Map<string, Signal<DigPart | undefined>>();

/** What the engine has against open digs, by field: then their figures are of before. */
export const digTrouble = signal<ReadonlyMap<string, Problem>>(new Map());

function trouble(field: string, error?: unknown): void {
  const known = new Map(digTrouble.peek());
  if (error instanceof NoCase) known.set(field, error.problem);
  else if (!known.delete(field)) return;
  digTrouble.value = known;
}

const partOf = (draft: DigDraft): Promise<DigPart | undefined> =>
  digPartOf(
    [...caseOf(draft.field), { id: draft.id, kind: 'dig', body: digOf(draft) }],
    draft.field,
    draft.cropYear,
    draft.id,
  );

/** What the engine would have against a dig; undefined = nothing, or it cannot be asked. */
export const wrongIn = (draft: DigDraft): Promise<Problem | undefined> =>
  partOf(draft).then(
    () => undefined,
    (error: unknown) => (error instanceof NoCase ? error.problem : undefined),
  );

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
      trouble(field);
      return;
    }
    void partOf(draft).then(
      (found) => {
        if (asked !== last) return;
        part.value = found;
        trouble(field);
      },
      (error: unknown) => {
        if (asked === last) trouble(field, error); // what it said before stands
      },
    );
  });
  return part;
}
