// A dig that was written on paper and is entered later, under the day on the paper.
import { yearDug } from '../dig/draft';
import { drafts, put, startDig } from './dig';

/** Opens a dig of that day, or sets the open one of the field back to it. */
export function startDigOf(field: string, day: string): void {
  startDig(field);
  const draft = drafts.value.get(field);
  if (draft) put({ ...draft, date: day, cropYear: yearDug(day) });
}
