// Closing a dig: what can still be told of it, each on a page of its own, and Done.
import { useSignal } from '@preact/signals';
import { causes, lookedOf, noteSpot, plantCount, type DigDraft } from '../dig/draft';
import { closeDig, put, turnTo } from '../state/dig';
import { letDigGo } from '../state/photo';
import { problemWords } from '../state/problem';
import { settings } from '../state/records';
import { digTrouble } from '../state/running';
import { t, tn, type Key } from '../state/words';
import { Nodes as NodesDrawn } from '../ui/drawing';
import { figureWords } from '../ui/figure';
import { Picks } from '../ui/form';
import { TakePhoto } from '../ui/photo';
import { enoughWords } from '../ui/verdict';
import { tapped } from '../ui/once';
import { useWayOut } from '../ui/way-out';
import type { DigPart } from '../wire.gen';

interface Props {
  draft: DigDraft;
}

/** The server takes no longer text. */
const mostNote = 4000;

export function SpotNote({ draft }: Props) {
  const spot = draft.spots.at(-1);
  return (
    <div class="thumb">
      <label class="ask" for="spot-note">
        {t('dig.noteFor', { n: draft.spots.length })}
      </label>
      <textarea
        id="spot-note"
        rows={3}
        maxLength={mostNote}
        value={spot?.note ?? ''}
        onInput={(e) => put(noteSpot(draft, e.currentTarget.value))}
      />
      <TakePhoto draft={draft} />
      <div class="row">
        <button type="button" class="loud" onClick={() => turnTo(draft, 'count')}>
          {t('dig.noteDone')}
        </button>
      </div>
    </div>
  );
}

export function Finish({ draft, part }: Props & { part: DigPart | undefined }) {
  const go = useWayOut();
  const busy = useSignal(false);
  const wrong = digTrouble.value.get(draft.field);
  const done = async () => {
    busy.value = true;
    const path = `/field/${draft.field}/dug/${draft.id}`;
    if (await closeDig(draft.field)) go(path);
    busy.value = false;
  };
  return (
    <>
      <div class="tally">
        <p class="where">
          {tn('dig.spots', draft.spots.filter((s) => s.plants.length > 0).length)},{' '}
          {tn('dig.plants', plantCount(draft))}
        </p>
        {Object.keys(draft.plant).length > 0 && <p class="notice">{t('dig.halfPlant')}</p>}
        {draft.typed && <p class="notice">{t('finish.halfCount', { n: draft.typed })}</p>}
        {part && <p class="enough">{enoughWords(part)}</p>}
        {wrong && <p class="error">{t('report.none', { why: problemWords(wrong) })}</p>}
        <p>{t(plantCount(draft) === 0 ? 'finish.noPlant' : 'finish.more')}</p>
      </div>
      <div class="thumb">
        <div class="keys">
          <More draft={draft} page="nodes" said={nodesSaid(draft)} />
          <More draft={draft} page="checks" said={checksSaid(draft)} />
          <More draft={draft} page="stand" said={standSaid(draft, part)} />
          <More draft={draft} page="words" said={wordsSaid(draft)} />
        </div>
        <div class="row">
          <button type="button" onClick={() => turnTo(draft, 'count')}>
            {t('dig.on')}
          </button>
          {plantCount(draft) === 0 ? (
            <LetGo draft={draft} />
          ) : (
            <button type="button" class="loud" disabled={busy.value} onClick={() => void done()}>
              {t('dig.done')}
            </button>
          )}
        </div>
      </div>
    </>
  );
}

/** A dig without a plant cannot be kept; what was written or photographed for it is let go by hand. */
function LetGo({ draft }: Props) {
  const go = useWayOut();
  const asked = useSignal(false);
  const drop = () => {
    if (!asked.value) return void (asked.value = true);
    void letDigGo(draft);
    go(`/field/${draft.field}`);
  };
  return (
    <button type="button" onClick={drop}>
      {t(asked.value ? 'finish.letGoNow' : 'finish.letGo')}
    </button>
  );
}

type Extra = 'nodes' | 'checks' | 'stand' | 'words';

function More({ draft, page, said }: Props & { page: Extra; said: string }) {
  return (
    <button
      type="button"
      class="key-button two-lines"
      data-page={page}
      onClick={() => turnTo(draft, page)}
    >
      <span>{t(`finish.${page}`)}</span>
      <small>{said}</small>
    </button>
  );
}

function nodesSaid({ node }: DigDraft): string {
  if (!node) return t('finish.notYet');
  return t('finish.nodesSaid', { n: node.count, how: t(`convention.${node.convention}` as Key) });
}

function checksSaid(draft: DigDraft): string {
  const looked = causes.filter((c) => lookedOf(draft, c) !== 'notLooked').length;
  if (looked === 0) return t('finish.notYet');
  return t('finish.checksSaid', { looked, all: causes.length, seen: draft.suspicions.length });
}

function standSaid(draft: DigDraft, part: DigPart | undefined): string {
  if (!draft.stand?.length) return t('finish.notYet');
  return part?.stand.value === undefined ? '…' : figureWords(part.stand);
}

function wordsSaid({ note, weeds = '' }: DigDraft): string {
  const all = [weeds, note].filter(Boolean).join(' · ');
  return all === '' ? t('finish.notYet') : all.slice(0, 40);
}

const mostNodes = 40;
/** Where counting up starts when nobody has said a number: the early look is made about here. */
const firstNodes = 4;

export function Nodes({ draft }: Props) {
  const convention = draft.node?.convention ?? settings.value?.nodeCount ?? 'withScale';
  const count = draft.node?.count;
  const set = (n: number) =>
    put({ ...draft, node: { count: Math.min(Math.max(n, 0), mostNodes), convention } });
  const turn = (to: string) => put({ ...draft, node: { count: count ?? firstNodes, convention: to } });
  return (
    <>
      <div class="tally">
        <h2>{t('dig.nodes')}</h2>
        <p>{t(`nodes.how.${convention}` as Key)}</p>
        <NodesDrawn
          withScale={convention === 'withScale'}
          label={t(`convention.${convention}` as Key)}
        />
      </div>
      <div class="thumb">
        <div class="nodes-line">
          <button
            type="button"
            class="key-button"
            aria-label={t('dig.nodeLess')}
            onClick={() => tapped(() => set((count ?? firstNodes + 1) - 1))}
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
            onClick={() => tapped(() => set((count ?? firstNodes) + 1))}
          >
            +
          </button>
        </div>
        <Picks
          label={t('dig.convention')}
          value={convention}
          options={[
            ['withScale', t('convention.withScale')],
            ['trueNodes', t('convention.trueNodes')],
          ]}
          onChange={turn}
        />
        <Back draft={draft} />
      </div>
    </>
  );
}

export function Words({ draft }: Props) {
  return (
    <div class="thumb">
      <label for="dig-weeds">{t('words.weeds')}</label>
      <textarea
        id="dig-weeds"
        rows={2}
        maxLength={mostNote}
        value={draft.weeds ?? ''}
        onInput={(e) => put({ ...draft, weeds: e.currentTarget.value })}
      />
      <label for="dig-note">{t('dig.wholeNote')}</label>
      <textarea
        id="dig-note"
        rows={2}
        maxLength={mostNote}
        value={draft.note}
        onInput={(e) => put({ ...draft, note: e.currentTarget.value })}
      />
      <TakePhoto draft={draft} />
      <Back draft={draft} />
    </div>
  );
}

/** Back to what can still be told. */
export function Back({ draft }: Props) {
  return (
    <div class="row">
      <button type="button" class="loud" onClick={() => turnTo(draft, 'finish')}>
        {t('finish.back')}
      </button>
    </div>
  );
}
