// The walk: where in the field to dig, and the way there. Works without signal, map or position.
import { signal, useSignal, type Signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { direction, distance, paced } from '../outline/plane';
import { outlineOf, ringsOf, type Geometry, type Position } from '../outline/shape';
import { poorM, positionOf, type Fix } from '../outline/track';
import { momentWords } from '../state/clock';
import { drafts, openDigs, startDig } from '../state/dig';
import { entryOf } from '../state/entry';
import { outlined } from '../state/outline';
import { fix, listenIfAllowed, stopListening } from '../state/position';
import { digs, one, planYear, today } from '../state/records';
import { mayPlan } from '../state/session';
import { loadEngineWords, showNumber, t, type Key } from '../state/words';
import { EntryLine } from '../ui/entry';
import { figureWords, kindWords, SourceList } from '../ui/figure';
import { Frame } from '../ui/frame';
import { FieldMap, viewOf } from '../ui/map';
import { Whereabouts } from '../ui/whereabouts';
import type { Outlined } from '../wire.gen';
import { NotHere } from './not-here';

/** Below 0 the engine takes as many as usual. Kept while the program is open. */
const counts = signal<ReadonlyMap<string, number>>(new Map());

export function Walk({ id = '' }: { id?: string }) {
  const field = one('field', id);
  useEffect(() => {
    loadEngineWords();
    void listenIfAllowed();
    return stopListening;
  }, []);
  if (!field) return <NotHere />;
  const outline = outlineOf(field.body.outline);
  const title = t('walk.title', { field: field.body.name });
  if (!outline) return <ByEye id={id} title={title} />;
  const asked = counts.value.get(id) ?? -1;
  const judged = outlined(outline, id, planYear.value, asked).value;
  if (judged.at === 'here' && judged.outlined.spots)
    return <OnMap id={id} title={title} outline={outline} found={judged.outlined} />;
  return (
    <Frame title={title} back={`/field/${id}`} backWords={field.body.name}>
      <FieldMap
        view={viewOf(ringsOf(outline).flat())}
        label={t('map.field', { field: field.body.name })}
        fitted
        field={outline}
      />
      <p>{judged.at === 'waiting' ? t('report.waiting') : t('walk.noSpots')}</p>
      <DigHere id={id} />
    </Frame>
  );
}

/** Without an outline: how to spread the spots oneself. */
function ByEye({ id, title }: { id: string; title: string }) {
  return (
    <Frame title={title} back={`/field/${id}`} foot={<DigHere id={id} />}>
      <EntryLine field={id} />
      <p>{t('walk.noOutline')}</p>
      <ol>
        <li>{t('walk.byEye1')}</li>
        <li>{t('walk.byEye2')}</li>
        <li>{t('walk.byEye3')}</li>
        <li>{t('walk.byEye4')}</li>
      </ol>
      <p class="aside">{t('walk.byEyeSource')}</p>
      {mayPlan.value && (
        <a class="button" href={`/field/${id}/outline`}>
          {t('walk.makeOutline')}
        </a>
      )}
    </Frame>
  );
}

/** A dug place this near to a suggested spot counts as that spot (ours). */
const sameSpotM = 60;

/** Which of the spots were dug today: in the open dig or in closed ones. */
function doneOf(field: string, spots: readonly Position[]): ReadonlySet<number> {
  const closed = (digs.value.get(field) ?? []).filter((d) => d.body.date === today.value);
  const draft = drafts.value.get(field)?.spots.filter((s) => s.plants.length > 0) ?? [];
  const done = new Set<number>();
  for (const { longitude, latitude } of [...closed.flatMap((d) => d.body.spots), ...draft]) {
    if (longitude === undefined || latitude === undefined) continue;
    const away = spots.map((s) => distance(s, [longitude, latitude]));
    const nearest = away.indexOf(Math.min(...away));
    if ((away[nearest] ?? Infinity) < sameSpotM) done.add(nearest);
  }
  return done;
}

/** The next in the order of the walk; the nearest one begins it where a position is given. */
function nextOf(spots: readonly Position[], done: ReadonlySet<number>, me: Fix | undefined): number {
  const left = spots.map((_, i) => i).filter((i) => !done.has(i));
  const [first = 0] = left;
  if (done.size > 0) return left.find((i) => i > Math.max(...done)) ?? first;
  if (!me) return first;
  const away = (i: number): number => distance(spots[i] ?? [0, 0], positionOf(me));
  return left.reduce((best, i) => (away(i) < away(best) ? i : best), first);
}

interface MapProps {
  id: string;
  title: string;
  outline: Geometry;
  found: Outlined;
}

function OnMap({ id, title, outline, found }: MapProps) {
  const chosen = useSignal<number | undefined>(undefined);
  const spots = (found.spots ?? []).map((s): Position => [s.longitude, s.latitude]);
  const done = doneOf(id, spots);
  const me = fix.value;
  const at = Math.min(chosen.value ?? nextOf(spots, done, me), spots.length - 1);
  const spot = spots[at];
  const edges = ringsOf(outline).flat();
  // Far from the field, the drawing stays with the field; the words say how far.
  const near = me && distance(positionOf(me), viewOf(edges).plane.middle) < farM(edges);
  return (
    <Frame
      title={title}
      back={`/field/${id}`}
      backWords={one('field', id)?.body.name ?? ''}
      foot={<DigHere id={id} n={at + 1} spot={spot} again={done.has(at)} />}
    >
      <EntryLine field={id} />
      <FieldMap
        view={viewOf(near ? [...edges, positionOf(me)] : edges)}
        label={t('walk.map', { n: spots.length, done: done.size })}
        fitted
        field={outline}
        spots={spots.map((s, i) => ({ at: s, done: done.has(i), chosen: i === at }))}
        me={near ? me : undefined}
        onSpot={(i) => (chosen.value = i)}
      />
      <p class="walk-way" aria-live="polite">
        <b>{t('walk.spot', { n: at + 1, of: spots.length })}</b>
        {spot && <WayTo spot={spot} from={me} />}
        {done.size === spots.length && <span>{t('walk.allDone')}</span>}
      </p>
      <SpotKeys count={spots.length} done={done} at={at} chosen={chosen} />
      <Whereabouts />
      <HowMany id={id} count={spots.length} chosen={chosen} />
      <Ground found={found} />
    </Frame>
  );
}

/** As far again as the field is wide. */
const farM = (edges: readonly Position[]): number => viewOf(edges).reachM * 3;

function WayTo({ spot, from }: { spot: Position; from: Fix | undefined }) {
  if (!from) return null;
  const metres = distance(positionOf(from), spot);
  if (metres < Math.min(from.accuracyM, poorM) || metres < 10) return <span>{t('walk.here')}</span>;
  const way = paced(metres);
  const far = way >= 1000 ? `${showNumber(way / 1000, 1)} km` : `${way} m`;
  const wind = t(`wind.${direction(positionOf(from), spot)}` as Key);
  return <span>{t('walk.way', { far, wind })}</span>;
}

function SpotKeys({
  count,
  done,
  at,
  chosen,
}: {
  count: number;
  done: ReadonlySet<number>;
  at: number;
  chosen: Signal<number | undefined>;
}) {
  return (
    <div class="spot-keys" role="group" aria-label={t('walk.spots')}>
      {Array.from({ length: count }, (_, i) => (
        <button
          key={i}
          type="button"
          aria-pressed={i === at}
          aria-label={t(done.has(i) ? 'walk.dug' : 'walk.toDig', { n: i + 1 })}
          onClick={() => (chosen.value = i)}
        >
          {i + 1}
          {done.has(i) ? ' ✓' : ''}
        </button>
      ))}
    </div>
  );
}

/** The bounds of the engine, which holds to them whatever is asked. */
const [fewest, most] = [3, 12];

function HowMany({
  id,
  count,
  chosen,
}: {
  id: string;
  count: number;
  chosen: Signal<number | undefined>;
}) {
  const set = (n: number) => {
    chosen.value = undefined;
    counts.value = new Map(counts.value).set(id, n);
  };
  return (
    <div class="row">
      <button type="button" disabled={count <= fewest} onClick={() => set(count - 1)}>
        {t('walk.fewer')}
      </button>
      <button type="button" disabled={count >= most} onClick={() => set(count + 1)}>
        {t('walk.more')}
      </button>
    </div>
  );
}

/** Why the spots lie where they lie, and what a person sees better than the program. */
function Ground({ found }: { found: Outlined }) {
  const { edge, count, sources = [] } = found;
  return (
    <>
      <p>{t('walk.ordinary')}</p>
      {edge && count && (
        <details class="reason">
          <summary>{t('walk.why')}</summary>
          <p>{t('walk.spread')}</p>
          <p>{t('walk.edge', { far: figureWords(edge), kind: kindWords(edge.kind) })}</p>
          <p>{t('walk.usual', { n: count.value ?? 0, kind: kindWords(count.kind) })}</p>
          <p>{t('walk.lowUnknown')}</p>
          <SourceList sources={sources} />
        </details>
      )}
    </>
  );
}

interface DigProps {
  id: string;
  n?: number;
  spot?: Position | undefined;
  again?: boolean;
}

/** The place that is kept with the dig: where I stand if that is known, else the suggested one. */
function placeOf(spot: Position | undefined): { longitude: number; latitude: number } | undefined {
  const me = fix.value;
  const stands = me && me.accuracyM <= poorM;
  if (stands && (!spot || distance(positionOf(me), spot) < sameSpotM))
    return { longitude: me.longitude, latitude: me.latitude };
  return spot && { longitude: spot[0], latitude: spot[1] };
}

function DigHere({ id, n, spot, again }: DigProps) {
  const { route } = useLocation();
  const go = () => {
    startDig(id, placeOf(spot));
    route(`/field/${id}/dig`);
  };
  const entry = entryOf(id).value;
  if (entry?.state === 'closed' && !openDigs.value.some((d) => d.field === id)) {
    return <p class="keep-out-words">{t('entry.closed', { when: momentWords(entry.until) })}</p>;
  }
  const words = n === undefined ? t('field.dig') : t(again ? 'walk.digAgain' : 'walk.dig', { n });
  return (
    <button class="loud" type="button" onClick={go}>
      {words}
    </button>
  );
}
