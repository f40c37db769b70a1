// An open dig: what has been tapped so far. Pure; every tap gives a new draft, and the taps before
// stay as steps to go back to.
import type { Dig, DigPlant, DigSpot, Node, Photo } from '../wire.gen';

export type Step = 'vigour' | 'nodules' | 'inside' | 'position';

export type Started = Partial<Pick<DigPlant, Step>>;

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
  /** Records of photos; they go with the dig, since the server wants to know it first. */
  photos?: Photo[];
  /** Earlier scenes, newest last. */
  past: Scene[];
}

const mostPast = 60;

/** The server's limits of a dig. */
export const mostSpots = 20;
export const mostPlants = 40;

export const draftKey = (field: string): string => `dig/${field}`;

export function begin(id: string, field: string, cropYear: number, date: string): DigDraft {
  const spots: DigSpot[] = [];
  return { id, field, cropYear, date, suspicions: [], note: '', spots, plant: {}, past: [] };
}

/** What is asked next. A root without nodules has no inside and no position to tell. */
export function stepOf(plant: Started): Step {
  if (plant.vigour === undefined) return 'vigour';
  if (plant.nodules === undefined) return 'nodules';
  return plant.inside === undefined ? 'inside' : 'position';
}

function past(draft: DigDraft): Scene[] {
  const { spots, plant } = draft;
  return [...draft.past, { spots, plant }].slice(-mostPast);
}

/** The plant once every question is answered. */
export function whole(plant: Started, id: string): DigPlant | undefined {
  const { vigour, nodules, inside, position } = plant;
  if (vigour === undefined || nodules === undefined) return undefined;
  if (nodules === 'none') return { id, vigour, nodules, position: 'none' };
  if (inside === undefined || position === undefined) return undefined;
  return inside === ''
    ? { id, vigour, nodules, position }
    : { id, vigour, nodules, inside, position };
}

/** One tap of an answer. newId is asked when the plant, or with it the first spot, is complete. */
export function tap(draft: DigDraft, answer: string, newId: () => string): DigDraft {
  const plant: Started = { ...draft.plant, [stepOf(draft.plant)]: answer };
  const done = whole(plant, newId());
  if (!done) return { ...draft, plant, past: past(draft) };
  const spots = draft.spots.length > 0 ? draft.spots : [{ id: newId(), plants: [] }];
  const last = spots.at(-1);
  const grown = last ? { ...last, plants: [...last.plants, done] } : undefined;
  const next = grown ? [...spots.slice(0, -1), grown] : spots;
  return { ...draft, spots: next, plant: {}, past: past(draft) };
}

/** On to the next spot; a spot without a plant is not left behind. */
export function nextSpot(draft: DigDraft, id: string): DigDraft {
  const last = draft.spots.at(-1);
  if (!last || last.plants.length === 0 || draft.spots.length >= mostSpots) return draft;
  return { ...draft, spots: [...draft.spots, { id, plants: [] }], plant: {}, past: past(draft) };
}

/** Back by one tap. Notes stay: they are text of their own. */
export function undo(draft: DigDraft): DigDraft {
  const scene = draft.past.at(-1);
  if (!scene) return draft;
  const notes = new Map(draft.spots.map((s) => [s.id, s.note]));
  const spots = scene.spots.map((s) => withNote(s, notes.get(s.id) ?? s.note ?? ''));
  return { ...draft, spots, plant: scene.plant, past: draft.past.slice(0, -1) };
}

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

/** The photos as records' bodies; a spot that was left empty is not there to point to. */
export function photosOf(draft: DigDraft): Photo[] {
  const spots = new Set(digOf(draft).spots.map((s) => s.id));
  return (draft.photos ?? []).map((photo) => {
    const { spot, ...rest } = photo;
    return spot && spots.has(spot) ? photo : rest;
  });
}

export const plantCount = (draft: DigDraft): number =>
  draft.spots.reduce((sum, spot) => sum + spot.plants.length, 0);

/** Whether the spot in hand can take another plant. */
export const spotIsFull = (draft: DigDraft): boolean =>
  (draft.spots.at(-1)?.plants.length ?? 0) >= mostPlants;

/** The dig as a record's body: empty spots and the half-told plant are left out. */
export function digOf(draft: DigDraft): Dig {
  const { field, cropYear, date, node, suspicions, note } = draft;
  return {
    field,
    cropYear,
    date,
    spots: draft.spots.filter((s) => s.plants.length > 0),
    ...(node ? { node } : {}),
    ...(suspicions.length > 0 ? { suspicions } : {}),
    ...(note === '' ? {} : { note }),
  };
}
