// A field drawn as on paper: outline, spots, where I am, north and a scale. No map behind it.
import {
  middleOf,
  planeAt,
  toDegrees,
  toMetres,
  type Metres,
  type Plane,
} from '../outline/plane';
import { poorM, positionOf, type Fix } from '../outline/track';
import { ringsOf, type Geometry, type Position } from '../outline/shape';
import { showNumber, t } from '../state/words';

/** The drawing's own units; on a phone about one to a pixel. */
const size = 360;
const margin = 26;

/** What part of the ground is seen: about a middle, so many metres to each side. */
export interface View {
  plane: Plane;
  middle: Metres;
  reachM: number;
}

/** A view that holds all positions, and no less than a small yard. */
export function viewOf(positions: readonly Position[], leastM = 40): View {
  const plane = planeAt(middleOf(positions));
  const flat = positions.map((p) => toMetres(plane, p));
  const reach = flat.map((m) => Math.max(Math.abs(m.east), Math.abs(m.north)));
  return { plane, middle: { east: 0, north: 0 }, reachM: Math.max(leastM, ...reach) };
}

interface Point {
  x: number;
  y: number;
}

const scaleOf = (view: View): number => (size / 2 - margin) / view.reachM;

function project(view: View, p: Position): Point {
  const m = toMetres(view.plane, p);
  const scale = scaleOf(view);
  return {
    x: size / 2 + (m.east - view.middle.east) * scale,
    y: size / 2 - (m.north - view.middle.north) * scale,
  };
}

function unproject(view: View, { x, y }: Point): Position {
  const scale = scaleOf(view);
  return toDegrees(view.plane, {
    east: view.middle.east + (x - size / 2) / scale,
    north: view.middle.north - (y - size / 2) / scale,
  });
}

const short = (n: number): string => n.toFixed(1);

function path(view: View, line: readonly Position[], close: boolean): string {
  const points = line.map((p) => project(view, p));
  const steps = points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`);
  return steps.join('') + (close ? 'Z' : '');
}

const shape = (view: View, g: Geometry): string =>
  ringsOf(g)
    .map((ring) => path(view, ring, true))
    .join('');

/** What of the drawing's height is shown: all of it, or what holds something and a strip below. */
interface Band {
  top: number;
  height: number;
}

const whole: Band = { top: 0, height: size };
const strip = 22; // north and scale stand in it, below the margin

function bandOf(view: View, positions: readonly Position[]): Band {
  const ys = positions.map((p) => project(view, p).y);
  const top = Math.max(0, Math.min(...ys) - margin);
  const bottom = Math.min(size, Math.max(...ys) + margin) + strip;
  return { top, height: bottom - top };
}

export interface MapSpot {
  at: Position;
  done: boolean;
  chosen: boolean;
}

interface Props {
  view: View;
  label: string;
  field?: Geometry | undefined;
  /** Other fields, or the outline as it was. */
  others?: readonly Geometry[];
  /** Corners or a track on their way to an outline. */
  line?: readonly Position[];
  corners?: boolean;
  grid?: boolean;
  spots?: readonly MapSpot[];
  me?: Fix | undefined;
  small?: boolean;
  /** Only as high as the field lies, for a map that is read and not drawn on. */
  fitted?: boolean;
  onSpot?: (index: number) => void;
  onGround?: (at: Position) => void;
}

export function FieldMap(p: Props) {
  const { view } = p;
  const held = [...(p.field ? ringsOf(p.field).flat() : []), ...(p.me ? [positionOf(p.me)] : [])];
  const band = p.fitted && held.length > 0 ? bandOf(view, held) : whole;
  const tapped = (event: MouseEvent) => {
    if (!p.onGround || !(event.currentTarget instanceof SVGSVGElement)) return;
    const box = event.currentTarget.getBoundingClientRect();
    const scale = size / box.width;
    const at = { x: (event.clientX - box.left) * scale, y: band.top + (event.clientY - box.top) * scale };
    p.onGround(unproject(view, at));
  };
  return (
    <svg
      class={p.small ? 'map small' : 'map'}
      viewBox={`0 ${band.top} ${size} ${band.height}`}
      role="img"
      aria-label={p.label}
      onClick={tapped}
    >
      {p.grid && <Grid view={view} />}
      {(p.others ?? []).map((g, i) => (
        <path key={i} class="map-other" d={shape(view, g)} fill-rule="evenodd" />
      ))}
      {p.field && <path class="map-field" d={shape(view, p.field)} fill-rule="evenodd" />}
      {p.line && <path class="map-line" d={path(view, p.line, false)} />}
      {p.corners && (p.line ?? []).map((c, i) => <Corner key={i} at={project(view, c)} />)}
      {p.me && <Me view={view} me={p.me} />}
      {(p.spots ?? []).map((s, i) => (
        <Spot key={i} n={i + 1} at={project(view, s.at)} spot={s} onTap={() => p.onSpot?.(i)} />
      ))}
      {!p.small && <North band={band} />}
      {!p.small && <Scale view={view} foot={band.top + band.height} />}
    </svg>
  );
}

function Corner({ at }: { at: Point }) {
  return <rect class="map-corner" x={at.x - 4} y={at.y - 4} width="8" height="8" />;
}

/** A spot to dig: a ring with its number, a tick once it is dug, thick where it is chosen. */
function Spot({
  n,
  at,
  spot,
  onTap,
}: {
  n: number;
  at: Point;
  spot: MapSpot;
  onTap: () => void;
}) {
  const kind = spot.done ? 'map-spot done' : 'map-spot';
  return (
    <g
      class={spot.chosen ? `${kind} chosen` : kind}
      data-longitude={spot.at[0]}
      data-latitude={spot.at[1]}
      onClick={onTap}
    >
      <circle class="map-reach" cx={at.x} cy={at.y} r="26" />
      <circle cx={at.x} cy={at.y} r="14" />
      <text x={at.x} y={at.y + 6}>
        {n}
      </text>
      {spot.done && <path class="map-tick" d={`M${at.x + 10} ${at.y - 12}l5 5l9 -11`} />}
    </g>
  );
}

/** Where I am, and the ring within which that is true. */
function Me({ view, me }: { view: View; me: Fix }) {
  const at = project(view, positionOf(me));
  const ring = Math.max(5, me.accuracyM * scaleOf(view));
  return (
    <g class={me.accuracyM > poorM ? 'map-me poor' : 'map-me'}>
      <circle class="map-ring" cx={at.x} cy={at.y} r={ring} />
      <path d={`M${at.x - 7} ${at.y}h14M${at.x} ${at.y - 7}v14`} />
    </g>
  );
}

/** At the top where there is room; under a fitted field beside the scale. */
function North({ band }: { band: Band }) {
  const [y, beside] = band === whole ? [14, 0] : [band.top + band.height - 38, 1];
  return (
    <g class="map-north">
      <path d={`M338 ${y + 30}V${y}l-6 11M338 ${y}l6 11`} />
      <text x={338 - 20 * beside} y={y + 48 - 18 * beside}>
        {t('map.north')}
      </text>
    </g>
  );
}

/** A length that people say, at most as wide as what is given. */
function roundLength(mostM: number): number {
  const power = 10 ** Math.floor(Math.log10(mostM));
  const step = [5, 2, 1].find((s) => s * power <= mostM) ?? 1;
  return step * power;
}

function Scale({ view, foot }: { view: View; foot: number }) {
  const scale = scaleOf(view);
  const metres = roundLength(110 / scale);
  const wide = metres * scale;
  const words = metres >= 1000 ? `${showNumber(metres / 1000)} km` : `${showNumber(metres)} m`;
  return (
    <g class="map-scale">
      <path d={`M14 ${foot - 16}v6h${short(wide)}v-6`} />
      <text x={22 + wide} y={foot - 8}>
        {words}
      </text>
    </g>
  );
}

/** Squares of a round length, for corners set by eye. */
function Grid({ view }: { view: View }) {
  const step = roundLength(view.reachM / 2);
  const lines = [];
  const from = (at: number) => Math.ceil((at - view.reachM * 1.2) / step) * step;
  const scale = scaleOf(view);
  const { east, north } = view.middle;
  for (let m = from(east); m <= east + view.reachM * 1.2; m += step)
    lines.push(`M${short(size / 2 + (m - east) * scale)} 0V${size}`);
  for (let m = from(north); m <= north + view.reachM * 1.2; m += step)
    lines.push(`M0 ${short(size / 2 - (m - north) * scale)}H${size}`);
  return <path class="map-grid" d={lines.join('')} />;
}
