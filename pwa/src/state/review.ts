// Values that two people set without knowing of each other, and the word that settles them.
import { computed, signal } from '@preact/signals';
import type { ConflictValue, Member, Settle } from '../wire.gen';
import { keep } from './keep';
import { all, type Rec } from './records';
import { api, mayPlan, open, withToken } from './session';

/** Open conflicts; one that was settled here leaves at once, as its settling lies over it. */
export const conflicts = computed(() => all('conflict'));

export const conflictsOf = (field: string): Rec<'conflict'>[] =>
  conflicts.value.filter((c) => c.body.field === field);

/** Whoever may write the record may settle. */
export const maySettle = (c: Rec<'conflict'>): boolean => mayPlan.value || c.body.of === 'photo';

export async function settle(c: Rec<'conflict'>, value: ConflictValue): Promise<boolean> {
  const set: Settle = { record: c.body.record, name: c.body.name, take: value.seq };
  return keep([{ rec: c.id, kind: 'settle', base: c.seq, set: { ...set } }]);
}

const names = signal<ReadonlyMap<string, string>>(new Map());

/** The name of a person of the account, where it is known here; empty otherwise. */
export function personName(id: string): string {
  const me = open.value?.owner.person;
  return me?.id === id ? me.name : (names.value.get(id) ?? '');
}

/** Asks who the others are. Without the network they stay "somebody else". */
export async function loadNames(): Promise<void> {
  const farm = open.value?.owner.farm;
  if (!farm || !mayPlan.value) return;
  try {
    const people = (await withToken((access) => api.ask<{ people: Member[] }>(farm, access, 'people'))).people;
    names.value = new Map(people.map((p) => [p.id, p.name]));
  } catch {
    // Offline or not allowed to know: the review works without names.
  }
}
