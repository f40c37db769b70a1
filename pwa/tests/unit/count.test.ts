// A crop that is judged by counting, the list of other causes, places of spots.
import { expect, test } from 'vitest';
import {
  answered,
  begin,
  digit,
  digOf,
  look,
  lookedOf,
  nextSpot,
  plantCount,
  stepOf,
  tap,
  undo,
  type Judged,
} from '../../src/dig/draft';

let ids = 0;
const newId = () => `id-${++ids}`;
const fresh = (judged: Judged = 'count') => begin('dig', 'field', 2027, '2027-06-14', judged);
const type = (digits: string, from = fresh()) =>
  [...digits].reduce((draft, d) => digit(draft, d), tap(from, 'vigorous', newId));

test('a counted plant keeps its number and names no clusters', () => {
  let draft = type('012');
  expect(draft.plant.typed).toBe('12');
  for (const answer of ['12', 'pink', 'mostlyCrown']) draft = tap(draft, answer, newId);
  const [plant] = digOf(draft).spots[0]?.plants ?? [];
  expect(plant).toMatchObject({ nodules: '', count: 12, inside: 'pink' });
  expect(plant).not.toHaveProperty('typed');
});

test('no nodule at all ends a counted plant', () => {
  const draft = tap(type('0'), '0', newId);
  expect(plantCount(draft)).toBe(1);
  expect(draft.spots[0]?.plants[0]).toMatchObject({ nodules: 'none', position: 'none' });
});

test('the other rule of counting asks for the large pink ones too', () => {
  let draft = tap(type('9', fresh('pink')), '9', newId);
  expect(stepOf(draft.plant, 'pink')).toBe('pink');
  for (const answer of ['7', 'pink', 'mostlyCrown']) draft = tap(draft, answer, newId);
  expect(digOf(draft).spots[0]?.plants[0]).toMatchObject({ count: 9, pink: 7 });
});

test('digits are taken back one by one, and no number grows past three', () => {
  const draft = type('12345');
  expect(draft.plant.typed).toBe('123');
  expect(undo(draft).plant.typed).toBe('12');
  expect(answered({ vigour: 'small' }, 'count', '3')).toMatchObject({ count: 3, nodules: '' });
});

test('a cause is seen, not seen, or nobody looked; never two of them', () => {
  let draft = look(fresh(), 'weevil', 'yes');
  draft = look(draft, 'weevil', 'notSeen');
  expect(lookedOf(draft, 'weevil')).toBe('notSeen');
  expect(draft.suspicions).toEqual([]);
  draft = look(draft, 'weevil', 'notLooked');
  expect(lookedOf(draft, 'weevil')).toBe('notLooked');
});

test('a place is kept with its spot; an empty spot is moved, not left behind', () => {
  const here = { longitude: -106, latitude: 51 };
  const there = { longitude: -106.01, latitude: 51.01 };
  let draft = nextSpot(fresh('clusters'), 'a', here);
  draft = nextSpot(draft, 'b', there);
  expect(draft.spots).toEqual([{ id: 'a', ...there, plants: [] }]);
  draft = tap(tap(draft, 'pale', newId), 'none', newId);
  draft = nextSpot(draft, 'c', here);
  expect(draft.spots.map((s) => s.longitude)).toEqual([-106.01, -106]);
  expect(undo(draft).spots.length).toBe(1);
});
