// An outline corner by corner: tapped on an empty grid, typed, or taken where I stand.
import { signal, useSignal } from '@preact/signals';
import { readPlace } from '../outline/place';
import { ringsOf, rounded, type Geometry, type Position } from '../outline/shape';
import { poorM, positionOf } from '../outline/track';
import { changeOutline, homeOf, undoOutline, type OutlineDraft } from '../state/outline';
import { fix } from '../state/position';
import { t, tn, type Key } from '../state/words';
import { TextField } from '../ui/form';
import { FieldMap, viewOf, type View } from '../ui/map';
import { Whereabouts } from '../ui/whereabouts';

interface Props {
  draft: OutlineDraft;
  before: Geometry | undefined;
}

/** What part of the ground the grid shows, once a person has moved it. */
const moved = signal<{ field: string; view: View } | undefined>(undefined);

/** Half a quarter section and some room. */
const startReachM = 500;

export function ByCorners({ draft, before }: Props) {
  const me = fix.value;
  const start = draft.corners.length > 0 ? draft.corners : before ? ringsOf(before).flat() : [];
  const home = homeOf(draft.field);
  const about = start.length > 0 ? start : me ? [positionOf(me)] : home ? [home] : [];
  const own = moved.value?.field === draft.field ? moved.value.view : undefined;
  const view = own ?? viewOf(about, start.length > 0 ? 40 : startReachM);
  const add = (at: Position) => changeOutline(draft, { corners: [...draft.corners, rounded(at)] });
  const [first] = draft.corners;
  return (
    <>
      <p>{t('outline.cornersHow')}</p>
      {about.length > 0 && (
        <>
          <FieldMap
            view={view}
            label={t('map.corners', { n: draft.corners.length })}
            others={before ? [before] : []}
            line={first && draft.corners.length > 2 ? [...draft.corners, first] : draft.corners}
            corners
            grid
            me={me}
            onGround={(at) => {
              moved.value = { field: draft.field, view };
              add(at);
            }}
          />
          <Move view={view} field={draft.field} />
        </>
      )}
      <p aria-live="polite">
        {tn('outline.corners', draft.corners.length)}
        {draft.corners.length < 3 && `. ${t('outline.three')}`}
      </p>
      <div class="row">
        <button type="button" disabled={draft.past.length === 0} onClick={() => undoOutline(draft)}>
          {t('dig.undo')}
        </button>
        {me && me.accuracyM <= poorM && (
          <button type="button" onClick={() => add(positionOf(me))}>
            {t('outline.cornerHere')}
          </button>
        )}
      </div>
      <TypedCorner add={add} />
      <Whereabouts />
    </>
  );
}

const moves = [
  ['west', -1, 0],
  ['north', 0, 1],
  ['south', 0, -1],
  ['east', 1, 0],
] as const;

/** Moves and widens the grid by taps; nothing needs a drag. */
function Move({ view, field }: { view: View; field: string }) {
  const to = (next: View) => (moved.value = { field, view: next });
  const shift = (east: number, north: number) => {
    const { middle, reachM } = view;
    const by = reachM / 2;
    to({ ...view, middle: { east: middle.east + east * by, north: middle.north + north * by } });
  };
  return (
    <div class="map-moves" role="group" aria-label={t('map.move')}>
      {moves.map(([key, east, north]) => (
        <button key={key} type="button" onClick={() => shift(east, north)}>
          {t(`map.to.${key}` as Key)}
        </button>
      ))}
      <button type="button" onClick={() => to({ ...view, reachM: view.reachM / 2 })}>
        {t('map.closer')}
      </button>
      <button type="button" onClick={() => to({ ...view, reachM: view.reachM * 2 })}>
        {t('map.wider')}
      </button>
    </div>
  );
}

function TypedCorner({ add }: { add: (at: Position) => void }) {
  const error = useSignal('');
  const text = useSignal('');
  const put = (typed: string) => {
    error.value = '';
    if (typed.trim() === '') return;
    const place = readPlace(typed);
    if (!place) {
      error.value = t('outline.badPlace', { typed });
      return;
    }
    text.value = '';
    add(place);
  };
  return (
    <TextField
      key={`${text.value}`}
      label={t('outline.typed')}
      value={text.value}
      hint={t('outline.typedHint')}
      error={error.value}
      onChange={put}
    />
  );
}

