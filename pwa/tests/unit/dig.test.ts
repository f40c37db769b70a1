import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  begin,
  digit,
  digOf,
  isBlank,
  nextSpot,
  noteSpot,
  oddNumber,
  plantCount,
  stepOf,
  tap,
  undo,
  untyped,
  yearDug,
} from '../../src/dig/draft';

let ids = 0;
const newId = () => `id-${++ids}`;
const fresh = () => begin('dig', 'field', 2027, '2027-06-14');
const tapAll = (answers: string[], from = fresh()) =>
  answers.reduce((draft, answer) => tap(draft, answer, newId), from);

test('four taps make a plant with nodules, two make a bare one', () => {
  const two = tapAll(['vigorous', 'over5', 'pink', 'mostlyCrown', 'pale', 'none']);
  expect(plantCount(two)).toBe(2);
  expect(two.spots[0]?.plants.map(({ id: _id, ...p }) => p)).toEqual([
    { vigour: 'vigorous', nodules: 'over5', inside: 'pink', position: 'mostlyCrown' },
    { vigour: 'pale', nodules: 'none', position: 'none' },
  ]);
});

test('a late crop is dug in its own year, not in the one that is planned', () => {
  expect(yearDug('2027-08-20')).toBe(2027);
});

test('an uncut nodule leaves the inside out', () => {
  const draft = tapAll(['small', 'under3', '', 'mostlyLateral']);
  expect(draft.spots[0]?.plants[0]).not.toHaveProperty('inside');
});

test('undo walks back tap by tap, over plants and spots', () => {
  let draft = tapAll(['vigorous', 'none']);
  draft = nextSpot(draft, 'spot-2');
  draft = tapAll(['vigorous', '3to5'], draft);
  draft = undo(draft);
  expect(stepOf(draft.plant)).toBe('nodules');
  draft = undo(undo(draft));
  expect(draft.spots.length).toBe(1);
  draft = undo(undo(draft));
  expect(plantCount(draft)).toBe(0);
  expect(undo(draft)).toBe(draft);
});

test('what was noted where nobody dug stands with the dig', () => {
  const dug = { ...tapAll(['vigorous', 'none']), note: 'windy' };
  const moved = noteSpot(nextSpot(dug, 'spot-2'), 'under water');
  expect(digOf(moved)).toMatchObject({ note: 'windy\nunder water', spots: [{}] });
  const back = undo(moved);
  expect(back.spots.length).toBe(1);
  expect(digOf(back).note).toBe('windy\nunder water');
  expect(digOf(nextSpot(undo(back), 'spot-3')).note).toBe('windy\nunder water');
});

test('at least fifty taps can be undone', () => {
  const fc50 = tapAll(Array.from({ length: 35 }, () => ['vigorous', 'none']).flat());
  let [draft, steps] = [fc50, 0];
  while (draft.past.length > 0) [draft, steps] = [undo(draft), steps + 1];
  expect(steps).toBeGreaterThanOrEqual(50);
});

test('an undo does not take a note away', () => {
  let draft = tapAll(['vigorous', 'none', 'pale', 'none']);
  draft = noteSpot(draft, 'wet');
  draft = undo(draft);
  expect(draft.spots[0]?.note).toBe('wet');
});

test('no spot is left empty, and a half-told plant is not handed in', () => {
  const one = nextSpot(tapAll(['vigorous', 'none']), 'spot-2');
  expect(nextSpot(one, 'spot-3')).toBe(one);
  const body = digOf(tap(one, 'vigorous', newId));
  expect(body.spots.length).toBe(1);
  expect(body).not.toHaveProperty('node');
  expect(body).not.toHaveProperty('note');
});

test('a draft survives the disk as it is', () => {
  const answers = fc.array(fc.constantFrom('vigorous', 'none', 'over5', 'pink', 'mostlyCrown'));
  fc.assert(
    fc.property(answers, (list) => {
      const draft = tapAll(list);
      expect(JSON.parse(JSON.stringify(draft))).toEqual(draft);
    }),
  );
});

test('a dig in which nothing was said is blank, whatever its place; a word or a half plant is work', () => {
  const placed = nextSpot(fresh(), 'spot', { longitude: -106, latitude: 51 });
  expect([fresh(), placed].map(isBlank)).toEqual([true, true]);
  expect(isBlank(noteSpot(placed, 'wet'))).toBe(false);
  expect(isBlank(tapAll(['vigorous']))).toBe(false);
  expect(isBlank(undo(tapAll(['vigorous'])))).toBe(true);
});

test('a number of nodules is asked about where it is odd, and cannot be fewer than its pink ones', () => {
  expect([60, 61, 999].map((n) => oddNumber({}, 'count', n))).toEqual([undefined, 'many', 'many']);
  expect([9, 10].map((n) => oddNumber({ count: 9 }, 'pink', n))).toEqual([undefined, 'over']);
  let draft = fresh();
  for (const key of '98765') draft = digit(draft, key);
  expect(draft.plant.typed).toBe('987'); // the engine takes 1000 at most
  expect(untyped(draft).plant.typed).toBeUndefined();
});
