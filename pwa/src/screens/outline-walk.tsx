// An outline made by going round the field, on foot or wheels.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Geometry } from '../outline/shape';
import { ringsOf } from '../outline/shape';
import { cornersOf, follow, gapsOf, poorM, positionOf } from '../outline/track';
import { changeOutline, outlineDraft, putOutline, type OutlineDraft } from '../state/outline';
import { eachFix, fix, listen, receiver, record } from '../state/position';
import { showNumber, t, tn } from '../state/words';
import { FieldMap, viewOf } from '../ui/map';
import { Whereabouts } from '../ui/whereabouts';

interface Props {
  draft: OutlineDraft;
  before: Geometry | undefined;
}

export function ByWalk({ draft, before }: Props) {
  const on = useSignal(false);
  useEffect(() => {
    if (!on.value) return undefined;
    listen();
    record(true);
    const end = eachFix((at) => {
      const open = outlineDraft.peek();
      if (!open) return;
      const track = follow(open.track, at);
      if (track !== open.track) putOutline({ ...open, track });
    });
    return () => {
      end();
      record(false);
    };
  }, [on.value]);
  // Refused, nothing is being walked, and no screen says so.
  useEffect(() => {
    if (receiver.value === 'refused') on.value = false;
  }, [receiver.value]);
  const me = fix.value;
  const line = draft.track.map(positionOf);
  const seen = [...line, ...(me ? [positionOf(me)] : [])];
  const all = seen.length > 0 ? seen : before ? ringsOf(before).flat() : [];
  return (
    <>
      <p>{t('outline.walkHow')}</p>
      {all.length > 0 && (
        <FieldMap
          view={viewOf(all)}
          label={t('map.track', { n: line.length })}
          others={before ? [before] : []}
          line={on.value ? line : [...cornersOf(draft.track), ...line.slice(0, 1)]}
          me={me}
          grid
        />
      )}
      <p aria-live="polite">{line.length > 0 && tn('outline.walked', line.length)}</p>
      <Whereabouts />
      {on.value && me && me.accuracyM > poorM && (
        <p class="notice">{t('outline.tooRough', { far: showNumber(poorM) })}</p>
      )}
      <Gaps draft={draft} open={on.value} />
      <div class="row">
        <button
          type="button"
          class={on.value || line.length === 0 ? 'loud' : ''}
          disabled={receiver.value === 'none'}
          onClick={() => (on.value = !on.value)}
        >
          {t(on.value ? 'outline.walkEnd' : line.length === 0 ? 'outline.walkBegin' : 'outline.walkOn')}
        </button>
        {!on.value && line.length > 0 && (
          <button type="button" onClick={() => changeOutline(draft, { track: [] })}>
            {t('outline.again')}
          </button>
        )}
        {!on.value && line.length === 0 && draft.past.length > 0 && <Back draft={draft} />}
      </div>
    </>
  );
}

/** Takes "begin anew" back. */
function Back({ draft }: { draft: OutlineDraft }) {
  const before = draft.past.findLast((p) => p.track.length > 0);
  if (!before) return null;
  return (
    <button type="button" onClick={() => putOutline({ ...draft, track: before.track })}>
      {t('outline.unAgain')}
    </button>
  );
}

/** Where the line is a guess. While it is being walked, its end is open and no gap. */
function Gaps({ draft, open }: { draft: OutlineDraft; open: boolean }) {
  const all = gapsOf(draft.track);
  const last = draft.track.at(-1);
  const gaps = open && last ? all.filter((g) => g.from[0] !== last.longitude) : all;
  if (gaps.length === 0) return null;
  return (
    <ul class="notice">
      {gaps.map((g, i) => (
        <li key={i}>{t('outline.gap', { far: showNumber(Math.round(g.metres)) })}</li>
      ))}
    </ul>
  );
}
