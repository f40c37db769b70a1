// Closing a dig: the growth stage, what else was seen, and Done.
import { useSignal, type Signal } from '@preact/signals';
import { noteSpot, plantCount, type DigDraft } from '../dig/draft';
import { closeDig, put } from '../state/dig';
import { settings } from '../state/records';
import { t, tn, type Key } from '../state/words';
import { Nodes } from '../ui/drawing';
import { Picks } from '../ui/form';
import { TakePhoto } from '../ui/photo';
import { useWayOut } from '../ui/way-out';

export type Mode = 'count' | 'note' | 'finish';

const suspicions = ['rootRot', 'weevil', 'waterlogging', 'herbicide', 'drought'] as const;

interface Props {
  draft: DigDraft;
  mode: Signal<Mode>;
}

export function SpotNote({ draft, mode }: Props) {
  const spot = draft.spots.at(-1);
  return (
    <>
      <label class="ask" for="spot-note">
        {t('dig.noteFor', { n: draft.spots.length })}
      </label>
      <textarea
        id="spot-note"
        rows={4}
        value={spot?.note ?? ''}
        onInput={(e) => put(noteSpot(draft, e.currentTarget.value))}
      />
      <TakePhoto draft={draft} />
      <div class="row">
        <button type="button" class="loud" onClick={() => (mode.value = 'count')}>
          {t('dig.noteDone')}
        </button>
      </div>
    </>
  );
}

export function Finish({ draft, mode }: Props) {
  const go = useWayOut();
  const busy = useSignal(false);
  const done = async () => {
    busy.value = true;
    const path = `/field/${draft.field}/dug/${draft.id}`;
    if (await closeDig(draft.field)) go(path);
    busy.value = false;
  };
  return (
    <div class="finish">
      <p>
        {tn('dig.spots', draft.spots.filter((s) => s.plants.length > 0).length)},{' '}
        {tn('dig.plants', plantCount(draft))}
      </p>
      {draft.plant.vigour !== undefined && <p class="notice">{t('dig.halfPlant')}</p>}
      <NodeStage draft={draft} />
      <Suspicions draft={draft} />
      <label for="dig-note">{t('dig.wholeNote')}</label>
      <textarea
        id="dig-note"
        rows={2}
        value={draft.note}
        onInput={(e) => put({ ...draft, note: e.currentTarget.value })}
      />
      <div class="row sticky">
        <button type="button" onClick={() => (mode.value = 'count')}>
          {t('dig.on')}
        </button>
        <button type="button" class="loud" disabled={busy.value} onClick={() => void done()}>
          {t('dig.done')}
        </button>
      </div>
    </div>
  );
}

const mostNodes = 40;

function NodeStage({ draft }: { draft: DigDraft }) {
  const convention = draft.node?.convention ?? settings.value?.nodeCount ?? 'withScale';
  const count = draft.node?.count;
  const set = (n: number) =>
    put({ ...draft, node: { count: Math.min(Math.max(n, 0), mostNodes), convention } });
  const turn = (to: string) => put({ ...draft, node: { count: count ?? 0, convention: to } });
  return (
    <section class="nodes">
      <h2>{t('dig.nodes')}</h2>
      <div class="nodes-line">
        <button
          type="button"
          class="key-button"
          aria-label={t('dig.nodeLess')}
          onClick={() => set((count ?? 1) - 1)}
        >
          −
        </button>
        <p class="count" aria-live="polite">
          {count ?? t('dig.nodeUnknown')}
        </p>
        <button
          type="button"
          class="key-button"
          aria-label={t('dig.nodeMore')}
          onClick={() => set((count ?? 4) + 1)}
        >
          +
        </button>
        <Nodes
          withScale={convention === 'withScale'}
          label={t(`convention.${convention}` as Key)}
        />
      </div>
      {count !== undefined && (
        <Picks
          label={t('dig.convention')}
          value={convention}
          options={[
            ['withScale', t('convention.withScale')],
            ['trueNodes', t('convention.trueNodes')],
          ]}
          onChange={turn}
        />
      )}
    </section>
  );
}

function Suspicions({ draft }: { draft: DigDraft }) {
  const flip = (s: string) => {
    const has = draft.suspicions.includes(s);
    put({
      ...draft,
      suspicions: has ? draft.suspicions.filter((x) => x !== s) : [...draft.suspicions, s],
    });
  };
  return (
    <fieldset class="picks">
      <legend>{t('dig.suspect')}</legend>
      {suspicions.map((s) => (
        <button
          key={s}
          type="button"
          aria-pressed={draft.suspicions.includes(s)}
          onClick={() => flip(s)}
        >
          {t(`suspicion.${s}` as Key)}
        </button>
      ))}
    </fieldset>
  );
}
