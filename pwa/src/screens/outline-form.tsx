// A field's outline: walked, marked corner by corner, or read from a file.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { outlineOf, polygonWith, ringsOf, type Geometry } from '../outline/shape';
import { cornersOf } from '../outline/track';
import { edit } from '../state/edit';
import {
  keepOutline,
  openOutline,
  outlined,
  outlineDraft,
  putOutline,
  type Judgement,
  type OutlineDraft,
  type Way,
} from '../state/outline';
import { atDesk } from '../state/place';
import { listenIfAllowed, stopListening } from '../state/position';
import { problemWords } from '../state/problem';
import { one, planYear, settings, type Rec } from '../state/records';
import { showAmount } from '../state/unit';
import { loadEngineWords, t, type Key } from '../state/words';
import { Picks } from '../ui/form';
import { Frame } from '../ui/frame';
import { FieldMap, viewOf } from '../ui/map';
import { KeptLine } from '../ui/sync-line';
import type { Outlined } from '../wire.gen';
import { NotHere } from './not-here';
import { ByCorners } from './outline-corners';
import { ByFile } from './outline-file';
import { ByWalk } from './outline-walk';

const ways: readonly Way[] = ['walk', 'corners', 'file'];

export function OutlineForm({ id = '' }: { id?: string }) {
  const field = one('field', id);
  useEffect(() => {
    loadEngineWords();
    void openOutline(id, atDesk.value ? 'file' : 'walk');
    void listenIfAllowed();
    return stopListening;
  }, [id]);
  if (!field) return <NotHere />;
  const draft = outlineDraft.value;
  return (
    <Frame
      title={t('outline.title', { field: field.body.name })}
      back={`/field/${id}`}
      backWords={field.body.name}
    >
      {draft?.field === id && <Making draft={draft} field={field} />}
    </Frame>
  );
}

/** What would be kept now; undefined while there is no shape yet. */
export function made(draft: OutlineDraft): Geometry | undefined {
  if (draft.way === 'file') return draft.chosen;
  return polygonWith(draft.way === 'walk' ? cornersOf(draft.track) : draft.corners);
}

function Making({ draft, field }: { draft: OutlineDraft; field: Rec<'field'> }) {
  const before = outlineOf(field.body.outline);
  const now = made(draft);
  return (
    <>
      <Picks
        label={t('outline.how')}
        value={draft.way}
        options={ways.map((w) => [w, t(`outline.way.${w}` as Key)] as const)}
        onChange={(way) => putOutline({ ...draft, way: way as Way })}
      />
      {draft.way === 'walk' && <ByWalk draft={draft} before={before} />}
      {draft.way === 'corners' && <ByCorners draft={draft} before={before} />}
      {draft.way === 'file' && <ByFile draft={draft} />}
      {draft.way === 'file' && (now ?? before) && (
        <Preview now={now} before={before} name={field.body.name} />
      )}
      {(draft.corners.length > 0 || draft.track.length > 0) && <KeptLine />}
      {now && <Keep outline={now} field={field} replaces={before !== undefined} />}
    </>
  );
}

interface PreviewProps {
  now: Geometry | undefined;
  before: Geometry | undefined;
  name: string;
}

function Preview({ now, before, name }: PreviewProps) {
  const all = [now, before].flatMap((g) => (g ? [g] : []));
  const main = now ?? before;
  return (
    <FieldMap
      view={viewOf(ringsOf(main ?? { type: 'MultiPolygon', coordinates: [] }).flat())}
      label={t('map.field', { field: name })}
      field={main}
      others={all.slice(1)}
    />
  );
}

interface KeepProps {
  outline: Geometry;
  field: Rec<'field'>;
  replaces: boolean;
}

/** What the engine says of the shape, and the one loud button. */
function Keep({ outline, field, replaces }: KeepProps) {
  const judged = outlined(outline, field.id, planYear.value, 0).value;
  const asArea = useSignal(field.body.area === undefined);
  const { route } = useLocation();
  const sound = judged.at === 'here' && !judged.outlined.findings?.length;
  const keep = async () => {
    if (!sound || !(await keepOutline(field.id, outline))) return;
    if (asArea.value) await edit('field', field.id, { area: ownArea(judged.outlined) }, field.id);
    route(`/field/${field.id}`);
  };
  return (
    <section class="outline-keep">
      <div aria-live="polite">
        <Verdict judged={judged} />
      </div>
      {sound && <AreaTick found={judged.outlined} field={field} asArea={asArea} />}
      {sound && (
        <button class="loud" type="button" onClick={() => void keep()}>
          {t(replaces ? 'outline.replace' : 'outline.keep')}
        </button>
      )}
    </section>
  );
}

/** The area in the unit in which this account thinks. */
const ownArea = (found: Outlined) =>
  settings.value?.units === 'metric' ? found.area : found.areaAcres;

function AreaTick({
  found,
  field,
  asArea,
}: {
  found: Outlined;
  field: Rec<'field'>;
  asArea: { value: boolean };
}) {
  const typed = field.body.area;
  return (
    <>
      {typed && found.differs && (
        <p class="notice">
          {t('outline.differs', { typed: showAmount(typed.value, typed.unit) })}
        </p>
      )}
      {(!typed || found.differs) && (
        <label class="tick-line">
          <input
            type="checkbox"
            checked={asArea.value}
            onChange={(e) => (asArea.value = e.currentTarget.checked)}
          />
          <span>{t('outline.asArea')}</span>
        </label>
      )}
    </>
  );
}

export function Verdict({ judged }: { judged: Judgement }) {
  if (judged.at === 'waiting') return <p>{t('report.waiting')}</p>;
  if (judged.at === 'failed')
    return <p class="error">{t('report.failed', { why: judged.message })}</p>;
  if (judged.at === 'none') return <p class="error">{problemWords(judged.problem)}</p>;
  const area = ownArea(judged.outlined);
  // The first finding: with sides that cross, the size says nothing.
  const [finding] = judged.outlined.findings ?? [];
  if (!finding) return <p class="key">{showAmount(area.value, area.unit)}</p>;
  return (
    <p class="error" role="alert">
      {t(`outline.${finding.code}` as Key, {
        latitude: finding.place.latitude.toFixed(5),
        longitude: finding.place.longitude.toFixed(5),
      })}
    </p>
  );
}
