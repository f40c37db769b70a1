// Who walks which field.
import { computed, signal } from '@preact/signals';
import { assignmentId } from '../id';
import type { Member } from '../wire.gen';
import { keep } from './keep';
import { assignments, planYear, view } from './records';
import { members } from './people';
import { mayPlan, open } from './session';

/** The person who is to walk a field this year; "" = open to whoever is near. */
export function walkerOf(field: string): string {
  const list = assignments.value.get(field) ?? [];
  return list.find((a) => a.body.cropYear === planYear.value)?.body.person ?? '';
}

export const me = computed(() => open.value?.owner.person.id ?? '');

/** Who could walk; known at the desk while the server can be asked. */
export const walkers = signal<readonly Member[]>([]);

export async function loadWalkers(): Promise<void> {
  if (!open.value || !mayPlan.value) return;
  try {
    walkers.value = (await members()).filter((p) => !p.archived && p.role !== 'grower');
  } catch {
    // Without the network fields can still be opened to whoever is near.
  }
}

export const walkerName = (id: string): string => walkers.value.find((p) => p.id === id)?.name ?? '';

/** Gives several fields to one person at once, or opens them. */
export async function assign(fields: readonly string[], person: string): Promise<boolean> {
  const farm = open.value?.owner.farm;
  if (!farm) return false;
  const cropYear = planYear.value;
  const edits = fields.map(async (field) => {
    const rec = await assignmentId(farm, field, cropYear);
    const base = view.value.get(rec)?.seq ?? 0;
    return { rec, kind: 'assignment', base, set: { field, cropYear, person } };
  });
  return keep(await Promise.all(edits));
}
