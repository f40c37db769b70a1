// An open dig: what has been tapped so far. Pure; every tap gives a new draft, and the taps before
// stay as steps to go back to.
import type { Dig, DigPlant, DigSpot, Node, Photo, Stand } from '../wire.gen';

/** The questions that are answered by one key of several. */
export type Step = 'vigour' | 'nodules' | 'inside' | 'position';

/** The questions that are answered by a number. */
export type NumberStep = 'count' | 'pink';

export type Started = Partial<Pick<DigPlant, Step | NumberStep>> & {
  /** Digits of a number on its way. */
  typed?: string;
};

/** How plants are judged: by clusters, or by nodules counted, or large pink ones of them as well. */
export type Judged = 'clusters' | 'count' | 'pink';

/** The page of a dig that was open, so that a call or a kill comes back to it. */
export type Page = 'count' | 'note' | 'finish' | 'nodes' | 'checks' | 'stand' | 'words';

/** The ground of a stand count: a length of row with its spacing, or a hoop. */
export type Ground = Omit<Stand, 'plants'>;

export interface Place {
  longitude: number;
  latitude: number;
}

interface Scene {
  spots: DigSpot[];
  /** The plant in hand. */
  plant: Started;
}

export interface DigDraft extends Scene {
  id: string;
  field: string;
  cropYear: number;
  date: string;
  node?: Node;
  suspicions: string[];
  note: string;
  // Not in drafts that an earlier version of this program left on the disk:
  notSeen?: string[];
  stand?: Stand[];
  /** What the next count of standing plants is made on, and its digits so far. */
  ground?: Ground;
  typed?: string;
  weeds?: string;
  judged?: Judged;
  page?: Page;
  /** The place in the list of other causes. */
  check?: number;
  /** Records of photos; they go with the dig, since the server wants to know it first. */
  photos?: Photo[];
  /** Typed in from paper, under the day on it. */
  paper?: true;
  /** Earlier scenes, newest last. */
  past: Scene[];
}

const mostPast = 60;

/** The server's limits of a dig. */
export const mostSpots = 20;
export const mostPlants = 40;

/** A crop that stands is of the year in which it is dug, also in August, when plans turn to the next. */
export const yearDug = (day: string): number => Number(day.slice(0, 4));

export const draftKey = (field: string): string => `dig/${field}`;

export function begin(
  id: string,
  field: string,
  cropYear: number,
  date: string,
  judged: Judged = 'clusters',
): DigDraft {
  const spots: DigSpot[] = [];
  const empty = { suspicions: [], note: '', spots, plant: {}, past: [] };
  return { id, field, cropYear, date, judged, ...empty };
}

/** What is asked next. A root without nodules has no inside and no position to tell. */
export function stepOf(plant: Started, judged: Judged = 'clusters'): Step | NumberStep {
  if (plant.vigour === undefined) return 'vigour';
  if (plant.nodules === undefined) return judged === 'clusters' ? 'nodules' : 'count';
  if (judged === 'pink' && plant.pink === undefined) return 'pink';
  return plant.inside === undefined ? 'inside' : 'position';
}

export const isNumber = (step: Step | NumberStep): step is NumberStep =>
  step === 'count' || step === 'pink';

function past(draft: DigDraft): Scene[] {
  const { spots, plant } = draft;
  return [...draft.past, { spots, plant }].slice(-mostPast);
}

/** The plant once every question is answered. */
export function whole(plant: Started, id: string): DigPlant | undefined {
  const { vigour, nodules, inside, position, count, pink } = plant;
  if (vigour === undefined || nodules === undefined) return undefined;
  if (nodules === 'none') return { id, vigour, nodules, position: 'none' };
  if (inside === undefined || position === undefined) return undefined;
  return {
    ...{ id, vigour, nodules, position },
    ...(inside === '' ? {} : { inside }),
    ...(count === undefined ? {} : { count }),
    ...(pink === undefined ? {} : { pink }),
  };
}

/** A number given for a question; none at all is the answer that ends the plant. */
function numbered(plant: Started, step: NumberStep, n: number): Started {
  const { typed: _typed, ...rest } = plant;
  if (step === 'pink') return { ...rest, pink: n };
  return n === 0 ? { ...rest, nodules: 'none' } : { ...rest, nodules: '', count: n };
}

/** The digits of a number of nodules; the engine takes no more than 1000 on one root. */
export const mostDigits = 3;

/** More nodules than this on one root are asked about, never refused (ours: a slip of a key is likelier). */
const oddCount = 60;

/** What is odd about a number: that it is large, or that more are large and pink than there are. */
export function oddNumber(plant: Started, step: NumberStep, n: number): 'many' | 'over' | undefined {
  if (step === 'pink') return plant.count !== undefined && n > plant.count ? 'over' : undefined;
  return n > oddCount ? 'many' : undefined;
}

/** The digits typed so far taken away, to type them anew. */
export function untyped(draft: DigDraft): DigDraft {
  const { typed: _typed, ...plant } = draft.plant;
  return { ...draft, plant, past: past(draft) };
}

/** One digit of a number; undo takes it back like any other tap. */
export function digit(draft: DigDraft, key: string): DigDraft {
  const typed = grown(draft.plant.typed ?? '', key, mostDigits);
  if (typed === draft.plant.typed) return draft;
  return { ...draft, plant: { ...draft.plant, typed }, past: past(draft) };
}

/** A number with one more digit, unless it is full; no noughts before it. */
export function grown(typed: string, key: string, most: number): string {
  const next = (typed + key).replace(/^0+(?=\d)/, '');
  return next.length > most ? typed : next;
}

/** The plant with the question in hand answered. */
export function answered(plant: Started, judged: Judged | undefined, answer: string): Started {
  const step = stepOf(plant, judged);
  return isNumber(step) ? numbered(plant, step, Number(answer)) : { ...plant, [step]: answer };
}

/** One tap of an answer. newId is asked when the plant, or with it the first spot, is complete. */
export function tap(draft: DigDraft, answer: string, newId: () => string): DigDraft {
  const plant = answered(draft.plant, draft.judged, answer);
  const done = whole(plant, newId());
  if (!done) return { ...draft, plant, past: past(draft) };
  const spots = draft.spots.length > 0 ? draft.spots : [{ id: newId(), plants: [] }];
  const last = spots.at(-1);
  const grown = last ? { ...last, plants: [...last.plants, done] } : undefined;
  const next = grown ? [...spots.slice(0, -1), grown] : spots;
  return { ...draft, spots: next, plant: {}, past: past(draft) };
}

/** On to the next spot; a spot without a plant is not left behind, only moved to the new place. */
export function nextSpot(draft: DigDraft, id: string, place?: Place): DigDraft {
  const last = draft.spots.at(-1);
  const next = { id, ...(place ?? {}), plants: [] };
  if (place && last?.plants.length === 0) {
    const moved = { ...last, ...place };
    return { ...draft, spots: [...draft.spots.slice(0, -1), moved], past: past(draft) };
  }
  if (!last && place) return { ...draft, spots: [next], past: past(draft) };
  if (!last || last.plants.length === 0 || draft.spots.length >= mostSpots) return draft;
  return { ...draft, spots: [...draft.spots, next], plant: {}, past: past(draft) };
}

/** Back by one tap. Notes stay: they are text of their own. That of a spot taken back goes to the dig. */
export function undo(draft: DigDraft): DigDraft {
  const scene = draft.past.at(-1);
  if (!scene) return draft;
  const notes = new Map(draft.spots.map((s) => [s.id, s.note]));
  const spots = scene.spots.map((s) => withNote(s, notes.get(s.id) ?? s.note ?? ''));
  const left = new Set(spots.map((s) => s.id));
  const note = noteWith(draft, draft.spots.filter((s) => !left.has(s.id)));
  return { ...draft, note, spots, plant: scene.plant, past: draft.past.slice(0, -1) };
}

/** The note of the dig, and below it those of spots that are not there any more. */
const noteWith = ({ note }: DigDraft, gone: readonly DigSpot[]): string =>
  [note, ...gone.map((s) => s.note ?? '')].filter((words) => words !== '').join('\n');

function withNote(spot: DigSpot, note: string): DigSpot {
  const { note: _old, ...rest } = spot;
  return note === '' ? rest : { ...rest, note };
}

export function noteSpot(draft: DigDraft, note: string): DigDraft {
  const last = draft.spots.at(-1);
  if (!last) return draft;
  return { ...draft, spots: [...draft.spots.slice(0, -1), withNote(last, note)] };
}

export const addPhoto = (draft: DigDraft, photo: Photo): DigDraft => ({
  ...draft,
  photos: [...(draft.photos ?? []).filter((p) => p.sha256 !== photo.sha256), photo],
});

export const dropPhoto = (draft: DigDraft, sha256: string): DigDraft => ({
  ...draft,
  photos: (draft.photos ?? []).filter((p) => p.sha256 !== sha256),
});

/** The photos of the spot in hand. */
export const spotPhotos = ({ photos = [], spots }: DigDraft): Photo[] =>
  photos.filter((p) => p.spot === spots.at(-1)?.id);

/** The photos as records' bodies; a spot that was left empty is not there to point to. */
export function photosOf(draft: DigDraft): Photo[] {
  const spots = new Set(digOf(draft).spots.map((s) => s.id));
  return (draft.photos ?? []).map((photo) => {
    const { spot, ...rest } = photo;
    return spot && spots.has(spot) ? photo : rest;
  });
}

/** What else may be wrong, in the order in which it is looked for: leaves, roots, ground. */
export const causes = [
  'herbicide',
  'seedTreatment',
  'rootRot',
  'weevil',
  'waterlogging',
  'drought',
  'salinity',
  'compaction',
] as const;

export type Looked = 'yes' | 'notSeen' | 'notLooked';

export function lookedOf(draft: DigDraft, what: string): Looked {
  if (draft.suspicions.includes(what)) return 'yes';
  return draft.notSeen?.includes(what) ? 'notSeen' : 'notLooked';
}

/** What was seen of one other cause; each stands in one list at most. */
export function look(draft: DigDraft, what: string, looked: Looked): DigDraft {
  const without = (list: readonly string[]) => list.filter((s) => s !== what);
  const suspicions = without(draft.suspicions);
  const notSeen = without(draft.notSeen ?? []);
  if (looked === 'yes') suspicions.push(what);
  if (looked === 'notSeen') notSeen.push(what);
  return { ...draft, suspicions, notSeen };
}

export const plantCount = (draft: DigDraft): number =>
  draft.spots.reduce((sum, spot) => sum + spot.plants.length, 0);

/** Nothing has been said in it: it holds no work, and nobody misses it. */
export function isBlank(draft: DigDraft): boolean {
  const { plant, photos = [], note, weeds = '', spots } = draft;
  const words = note + weeds + spots.map((s) => s.note ?? '').join('');
  const none = plantCount(draft) === 0 && Object.keys(plant).length === 0;
  return none && photos.length === 0 && words.trim() === '';
}

/** Whether the spot in hand can take another plant. */
export const spotIsFull = (draft: DigDraft): boolean =>
  (draft.spots.at(-1)?.plants.length ?? 0) >= mostPlants;

const isEmpty = (spot: DigSpot): boolean => spot.plants.length === 0;

/**
 * The dig as a record's body: the half-told plant is left out, and an empty spot too. What was
 * noted there, perhaps why nobody could dig, stands with the dig.
 */
export function digOf(draft: DigDraft): Dig {
  const { field, cropYear, date, node, suspicions } = draft;
  const { notSeen = [], stand = [], weeds = '' } = draft;
  const note = noteWith(draft, draft.spots.filter(isEmpty));
  return {
    field,
    cropYear,
    date,
    spots: draft.spots.filter((s) => !isEmpty(s)),
    ...(node ? { node } : {}),
    ...(suspicions.length > 0 ? { suspicions } : {}),
    ...(notSeen.length > 0 ? { notSeen } : {}),
    ...(stand.length > 0 ? { stand } : {}),
    ...(weeds === '' ? {} : { weeds }),
    ...(note === '' ? {} : { note }),
  };
}
