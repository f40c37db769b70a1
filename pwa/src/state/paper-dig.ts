// A dig that was written on paper and is entered later, under the day on the paper.
import { drafts, put, startDig } from './dig';

/** From 1 August on, a day belongs to the next crop year, as everywhere. */
function cropYearOf(day: string): number {
  const [year, month] = day.split('-').map(Number);
  return (year ?? 0) + ((month ?? 1) >= 8 ? 1 : 0);
}

/** Opens a dig of that day, or sets the open one of the field back to it. */
export function startDigOf(field: string, day: string): void {
  startDig(field);
  const draft = drafts.value.get(field);
  if (draft) put({ ...draft, date: day, cropYear: cropYearOf(day) });
}
