// A day's walk: what each field's report says of its next visit, put in order by the engine.
import { computed, effect, signal } from '@preact/signals';
import { orderOf, stopOf } from '../engine/bridge';
import { CROPS, type Order, type Stop } from '../wire.gen';
import { me, walkerOf } from './assign';
import { keepTime, moment } from './clock';
import { atDesk } from './place';
import { caseOf, inSeason, passes, planYear, rows, type FieldRow } from './records';
import { role } from './session';
import { middleOf, metresBetween, type Place } from './way';
import { loadEngineWords, sayCode } from './words';

interface Digest {
  asked: string;
  /** Undefined where the engine could not work the field out. */
  stop: Stop | undefined;
}

/** Fields with a crop of this year that the engine knows. */
export const walked = computed<FieldRow[]>(() =>
  rows.value.filter((r) => (CROPS as readonly string[]).includes(r.season?.body.crop ?? '')),
);

/** Grows in place: screens hear of it by `told`, and only when a whole part of it is there. */
const digests = new Map<string, Digest>();
const told = signal(0);
const count = signal(0);
export const here = signal<Place | undefined>(undefined);
export const order = signal<Order | undefined>(undefined);

const known = (row: FieldRow): boolean => digests.has(row.field.id);
export const isMine = (row: FieldRow): boolean =>
  me.value !== '' && walkerOf(row.field.id) === me.value;

/** Fields that are still being worked out, those that could not be, and whether mine are all in. */
export const working = computed(() => (count.value, walked.value.filter((r) => !known(r)).length));
export const failed = computed(
  () => (told.value, walked.value.filter((r) => known(r) && !digests.get(r.field.id)?.stop)),
);
/** The fields in the order shown are known whole: mine come first, then all. */
export const ready = computed(
  () => (order.value, { mine: allIn(walked.value.filter(isMine)), all: allIn(walked.value) }),
);
const allIn = (list: readonly FieldRow[]): boolean => {
  const placed = new Set(order.value?.turns.map((turn) => turn.field));
  return list.every((r) => placed.has(r.field.id) || (known(r) && !digests.get(r.field.id)?.stop));
};

/** Changes when a record of the field does. */
const stampOf = (field: string): string =>
  JSON.stringify([planYear.peek(), ...caseOf(field).map((r) => [r.id, r.seq ?? r.body])]);

let busy = false;

/** Works out what has changed, mine first, until nothing has. Each answer is a turn of its own. */
async function work(): Promise<void> {
  if (busy) return;
  busy = true;
  try {
    while (await workOnce());
  } finally {
    busy = false;
  }
}

async function workOnce(): Promise<boolean> {
  const list = [...walked.peek()].sort((a, b) => Number(isMine(b)) - Number(isMine(a)));
  const mine = list.filter(isMine).length;
  let changed = false;
  for (const [i, { field }] of list.entries()) {
    if (i === mine && changed) tell();
    const asked = stampOf(field.id);
    if (digests.get(field.id)?.asked === asked) continue;
    changed = true;
    const stop = await stopOf(caseOf(field.id), field.id, planYear.peek()).catch(() => undefined);
    digests.set(field.id, { asked, stop });
    if (i % 8 === 0) count.value++;
  }
  if (changed) tell();
  return changed;
}

function tell(): void {
  count.value++;
  told.value++;
}

function withWay(stop: Stop, row: FieldRow): Stop {
  const middle = here.value ? middleOf(row.field.body.outline) : undefined;
  return here.value && middle ? { ...stop, metres: metresBetween(here.value, middle) } : stop;
}

/** In season a scout sees the day's walk first. */
export const opensWithWalk = computed(
  () => role.value === 'scout' && inSeason.value && !atDesk.value,
);

/** Resolves when the order and its words are here, and after a while without them. */
export function orderFirst(patienceMS = 3_000): Promise<void> {
  loadEngineWords();
  const there = () => {
    const { mine, all } = ready.value;
    return (all || (mine && walked.value.some(isMine))) && sayCode('turn.wide') !== '';
  };
  return new Promise((done) => {
    const ends = [keepTime(), watchOrder(), effect(() => (there() ? done() : undefined))];
    setTimeout(() => {
      done();
      ends.forEach((end) => end());
    }, patienceMS);
  });
}

/** Keeps the order while a screen shows it; gives what ends it. */
export function watchOrder(): () => void {
  let last = '';
  const ends = [
    effect(() => {
      if (walked.value.length > 0) void work();
    }),
    effect(() => {
      if (told.value === 0) return;
      const stops = walked.value.flatMap((row) => {
        const stop = digests.get(row.field.id)?.stop;
        return stop ? [withWay(stop, row)] : [];
      });
      const records = [...passes.value.values()].flat().map(({ id, kind, body }) => ({ id, kind, body }));
      const round = { now: moment.value, stops };
      const asked = JSON.stringify([round, records]);
      if (asked === last) return;
      last = asked;
      void orderOf(round, records).then(
        (found) => {
          if (asked === last) order.value = found;
        },
        () => undefined, // the engine is asked again with the next change or minute
      );
    }),
  ];
  return () => ends.forEach((end) => end());
}
