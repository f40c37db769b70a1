// A day's walk: what each field's report says of its next visit, put in order by the engine.
import { computed, effect, signal } from '@preact/signals';
import { orderOf } from '../engine/bridge';
import { CROPS, type Order, type Report, type Stop, type Visit, type Window } from '../wire.gen';
import { moment } from './clock';
import { caseOf, passes, planYear, rows, type FieldRow } from './records';
import { compute } from './report';
import { middleOf, metresBetween, type Place } from './way';

interface Digest {
  asked: string;
  /** Undefined where the engine could not work the field out. */
  stop: Stop | undefined;
}

/** Fields with a crop of this year that the engine knows. */
export const walked = computed<FieldRow[]>(() =>
  rows.value.filter((r) => (CROPS as readonly string[]).includes(r.season?.body.crop ?? '')),
);

const digests = signal<ReadonlyMap<string, Digest>>(new Map());
export const here = signal<Place | undefined>(undefined);
export const order = signal<Order | undefined>(undefined);

/** Fields that are still being worked out, and those that could not be. */
export const working = computed(
  () => walked.value.filter((r) => !digests.value.has(r.field.id)).length,
);
export const failed = computed(() =>
  walked.value.filter((r) => {
    const digest = digests.value.get(r.field.id);
    return digest !== undefined && digest.stop === undefined;
  }),
);

const asVisit = (visit: string, { date, from, to }: Window): Visit => ({
  visit,
  ...(date ? { date } : {}),
  ...(from ? { from } : {}),
  ...(to ? { to } : {}),
});

/** What the order needs of a report; nothing is worked out here. */
function stopOf(row: FieldRow, { stage, headline, value }: Report): Stop {
  const { next } = stage;
  const visits = [asVisit(next.visit, next.due)];
  visits.push(asVisit('decide', stage.decide), asVisit('record', stage.record));
  const { area } = row.field.body;
  const [worth, each] = [value.digField.value, value.dig.value];
  return {
    field: row.field.id,
    visits,
    basis: stage.basis,
    ...(headline.fail === undefined ? {} : { fail: headline.fail }),
    ...(worth === undefined ? {} : { worth }),
    ...(each === undefined ? {} : { worthAcre: each }),
    ...(area ? { area } : {}),
  };
}

/** Changes when a record of the field does. */
const stampOf = (field: string): string =>
  JSON.stringify([planYear.peek(), ...caseOf(field).map((r) => [r.id, r.seq ?? r.body])]);

let busy = false;

/** Works fields out one after the other, so that a change in between is seen. */
async function work(): Promise<void> {
  if (busy) return;
  busy = true;
  try {
    for (let row = stale(); row; row = stale()) {
      const { id } = row.field;
      const asked = stampOf(id);
      const state = await compute(caseOf(id), id, planYear.value);
      const stop = state.at === 'here' ? stopOf(row, state.evaluated.report) : undefined;
      digests.value = new Map(digests.peek()).set(id, { asked, stop });
    }
  } finally {
    busy = false;
  }
}

const stale = (): FieldRow | undefined =>
  walked.peek().find((r) => digests.peek().get(r.field.id)?.asked !== stampOf(r.field.id));

function withWay(stop: Stop, row: FieldRow | undefined): Stop {
  const middle = here.value && row ? middleOf(row.field.body.outline) : undefined;
  return here.value && middle ? { ...stop, metres: metresBetween(here.value, middle) } : stop;
}

/** Keeps the order while a screen shows it; gives what ends it. */
export function watchOrder(): () => void {
  let last = '';
  const ends = [
    effect(() => {
      if (walked.value.length > 0) void work();
    }),
    effect(() => {
      const of = new Map(walked.value.map((r) => [r.field.id, r]));
      const stops = [...digests.value.values()].flatMap(({ stop }) =>
        stop && of.has(stop.field) ? [withWay(stop, of.get(stop.field))] : [],
      );
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
