// The day's walk: which fields, in which order, why, what to bring, and where nobody goes in yet.
import { computed, signal, useSignal } from '@preact/signals';
import { lazy } from 'preact-iso';
import { useEffect } from 'preact/hooks';
import { assign, loadWalkers, me, walkerName, walkerOf, walkers } from '../state/assign';
import { besideFailed, besideTurns, isBeside, oneList, watchBesideTurns, type Item } from '../state/beside-walk';
import { keepTime } from '../state/clock';
import { atDesk } from '../state/place';
import { one, planYear, type FieldRow } from '../state/records';
import { mayPlan, open as opened } from '../state/session';
import { keepSight } from '../state/sight';
import { failed, here, isMine, opensWithWalk, order, ready, walked, watchOrder, working } from '../state/today';
import { placeNow } from '../state/way';
import { loadEngineWords, say, sayCode, t, tn, type Key } from '../state/words';
import type { Message, Turn } from '../wire.gen';
import { DecidedLine } from '../ui/decision';
import { Choice, Picks } from '../ui/form';
import { ClockWords, EntryNotice } from '../ui/entry';
import { Fold } from '../ui/fold';
import { Frame, PhoneNav } from '../ui/frame';
import { cropWords } from '../ui/headline';
import { NewVersion } from '../ui/new-version';
import { AccountName, BesideLine } from '../ui/beside-line';

/** Only the desk shows them here; the phone need not load what draws them. */
const Calls = lazy(() => import('../ui/calls').then((m) => m.Calls));

type Whose = 'mine' | 'open' | 'all';

const picked = signal<Whose | undefined>(undefined);
const ticked = signal<ReadonlySet<string>>(new Set());

const isWhose: Record<Whose, (field: string) => boolean> = {
  mine: (field) => walkerOf(field) === me.value,
  open: (field) => walkerOf(field) === '',
  all: () => true,
};

const turns = computed(() => order.value?.turns ?? []);
const whoseTurns = (w: Whose): Turn[] => turns.value.filter((turn) => isWhose[w](turn.field));

/** A person with fields of their own sees those first; the desk sees all. */
const whose = computed<Whose>(() => {
  if (picked.value) return picked.value;
  const some = walked.value.some(isMine) || besideTurns.value.some(isBeside.mine);
  return !atDesk.value && some ? 'mine' : 'all';
});

const shown = computed(() => whoseTurns(whose.value));
const besideShown = computed(() => besideTurns.value.filter(isBeside[whose.value]));
const either = computed(() => walked.value.length + besideTurns.value.length > 0);

/** Until every field of the list has its place, the fields stand without one. */
const placed = computed(() => ready.value[whose.value === 'mine' ? 'mine' : 'all']);

/** Said of every field of the list, it is said once below it. */
const wide = computed(() => shown.value.some(soon) && shown.value.filter(soon).every(isWide));
const isWide = (turn: Turn): boolean => turn.why.some(saysWide);
const saysWide = (m: Message): boolean => m.code === 'turn.wide';

/** What is worth a walk today; the rest waits below. */
const soon = (turn: Turn): boolean => ['closing', 'open', 'past'].includes(turn.due);

export function Today() {
  useEffect(() => {
    loadEngineWords();
    const ends = [keepTime(), watchOrder(), watchBesideTurns()];
    void placeNow(false).then((place) => (here.value = place ?? here.value));
    void loadWalkers();
    return () => ends.forEach((end) => end());
  }, []);
  useEffect(() => {
    if (placed.value && !atDesk.value) keepSight(opensWithWalk.value);
  });
  return (
    <Frame wide={atDesk.value} title={t('today.title')} foot={<PhoneNav />}>
      <NewVersion />
      {atDesk.value && mayPlan.value && <Calls />}
      {either.value ? <Whose /> : <p>{t('today.none')}</p>}
      {mayPlan.value && !atDesk.value && ticked.value.size > 0 && <Assign />}
      {placed.value ? (
        <>
          <Bring />
          {atDesk.value && shown.value.length > 0 && <Heads />}
          <List />
          {atDesk.value && mayPlan.value && shown.value.length > 0 && <Assign />}
          <Failed />
          {either.value && <Near />}
          {either.value && <ClockWords />}
          {wide.value && <p class="aside">{sayCode('turn.wide')}</p>}
          <Rule />
        </>
      ) : (
        <Unplaced />
      )}
    </Frame>
  );
}

/** What the columns of the desk's list are. */
function Heads() {
  return (
    <p class="turn turn-heads" aria-hidden="true">
      <span class="turn-name">{t('col.field')}</span>
      <span>{t('today.dueHead')}</span>
      <span class="turn-who">{t('today.who')}</span>
    </p>
  );
}

function Whose() {
  const all = (w: Whose) => [
    ...whoseTurns(w),
    ...besideTurns.value.filter(isBeside[w]).map((b) => b.turn),
  ];
  const count = (w: Whose) => (ready.value.all ? String(all(w).filter(soon).length) : '');
  return (
    <Picks
      label={t('today.whose')}
      value={whose.value}
      options={(['mine', 'open', 'all'] as const).map((w) => [
        w,
        t(`today.${w}`, { n: count(w) }).trim(),
      ])}
      onChange={(w) => (picked.value = w as Whose)}
    />
  );
}

/** One list for the whole day, so that nothing is fetched twice. */
function Bring() {
  const list = [...shown.value, ...besideShown.value.map((b) => b.turn)];
  const codes = new Set(list.filter(soon).flatMap((turn) => turn.bring));
  if (codes.size === 0) return null;
  const words = [...codes].map((code) => sayCode(`bring.${code}`)).filter((w) => w !== '');
  return (
    <p class="bring">
      <b>{t('today.bring')}</b> {words.join(' · ')}
    </p>
  );
}

/** The fields by name while their order is being worked out: each can be opened already. */
function Unplaced() {
  const list = walked.value.filter((row) => isWhose[whose.value](row.field.id));
  return (
    <section class="group">
      <p class="bring" aria-live="polite">
        {tn('today.working', Math.max(1, working.value))}
      </p>
      <ul class="lines">
        {list.map((row) => (
          <li key={row.field.id}>
            <a class="line" href={`/field/${row.field.id}`}>
              <FieldName row={row} />
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function FieldName({ row: { field, season, grower } }: { row: FieldRow }) {
  return (
    <span class="field-name">
      <b>{field.body.name}</b>
      <span class="quiet">
        {[season && cropWords(season.body.crop), grower?.body.name].filter(Boolean).join(' · ')}
      </span>
    </span>
  );
}

const groupOf = (turn: Turn): string =>
  turn.entry === 'closed' && soon(turn) ? 'closed' : turn.due;

function List() {
  const groups = new Map<string, Item[]>();
  for (const item of oneList(shown.value, besideShown.value)) {
    const name = groupOf(item.turn);
    groups.set(name, [...(groups.get(name) ?? []), item]);
  }
  if (groups.size === 0 && either.value) return <p>{t('today.noneOfThese')}</p>;
  let no = 0;
  return (
    <>
      {[...groups].map(([name, list]) => {
        const first = no + 1;
        no += list.length;
        const lines = <Lines list={list} first={first} />;
        return name === 'later' || name === 'none' ? (
          <Fold key={name} title={`${t(`due.${name}` as Key)} (${list.length})`}>
            {lines}
          </Fold>
        ) : (
          <section key={name} class="group">
            <h2>{t(`due.${name}` as Key)}</h2>
            {name === 'past' && <p class="aside">{t('due.pastHint')}</p>}
            {lines}
          </section>
        );
      })}
    </>
  );
}

function Lines({ list, first }: { list: readonly Item[]; first: number }) {
  return (
    <ol class="turns" start={first}>
      {list.map(({ turn, beside }, i) =>
        beside ? (
          <BesideLine key={turn.field} of={beside} no={first + i} />
        ) : (
          <Line key={turn.field} turn={turn} no={first + i} />
        ),
      )}
    </ol>
  );
}

function Line({ turn, no }: { turn: Turn; no: number }) {
  const open = useSignal(false);
  const row = walked.value.find((r) => r.field.id === turn.field);
  if (!row) return null;
  const { body } = row.field;
  const entry = { state: turn.entry as 'open' | 'ask' | 'closed', until: turn.until ?? '' };
  const [why = '', second, ...more] = turn.why.filter((m) => !wide.value || !saysWide(m)).map(say);
  return (
    <li class="turn">
      <span class="turn-no">{no}</span>
      <div class="turn-words">
        <div class="turn-head">
          {mayPlan.value && atDesk.value && <TickField field={turn.field} name={body.name} />}
          <a class="turn-name" href={`/field/${turn.field}`}>
            <FieldName row={row} />
          </a>
          {more.length > 0 && (
            <button
              type="button"
              class="turn-why"
              aria-expanded={open.value}
              aria-label={t('today.why', { field: body.name })}
              onClick={() => (open.value = !open.value)}
            >
              {t('today.whyShort')}
            </button>
          )}
          {mayPlan.value && !atDesk.value && <TickField field={turn.field} name={body.name} />}
        </div>
        <AccountName name={opened.value?.owner.accountName ?? ''} />
        <EntryNotice entry={{ ...entry, why: turn.passes }} clock={false} />
        <p>{why}</p>
        {second && <p class="quiet">{second}</p>}
        {open.value && <p class="quiet">{more.join(' ')}</p>}
        <DecidedLine field={turn.field} year={planYear.value} />
        {atDesk.value ? (
          <p class="turn-who">
            <span class="hidden">{t('today.who')} </span>
            {whoWords(turn.field)}
          </p>
        ) : (
          whose.value === 'all' && <Walker field={turn.field} />
        )}
      </div>
    </li>
  );
}

function whoWords(field: string): string {
  const id = walkerOf(field);
  if (id === '') return t('today.openShort');
  return (id === me.value ? opened.value?.owner.person.name : walkerName(id)) || t('today.others');
}

function Walker({ field }: { field: string }) {
  const id = walkerOf(field);
  if (id === me.value && id !== '') return <p class="quiet">{t('today.isMine')}</p>;
  if (id === '') return null; // open to whoever is near: as most are
  const name = walkerName(id);
  return <p class="quiet">{name ? t('today.isOf', { name }) : t('today.isOthers')}</p>;
}

/** From the keyboard: Enter leads from a tick to whom the fields are given, past the rest of the list. */
const toAssign = (event: KeyboardEvent) => {
  if (event.key === 'Enter') document.querySelector<HTMLElement>('.assign select')?.focus();
};

function TickField({ field, name }: { field: string; name: string }) {
  const on = ticked.value.has(field);
  const flip = () => {
    const next = new Set(ticked.value);
    if (on) next.delete(field);
    else next.add(field);
    ticked.value = next;
  };
  return (
    <label class="turn-tick">
      <input type="checkbox" checked={on} onChange={flip} onKeyDown={toAssign} />
      <span class="hidden">{t('today.tick', { field: name })}</span>
    </label>
  );
}

const to = signal('');

/** Gives all ticked fields to one person, or opens them. */
function Assign() {
  const go = async () => {
    if (await assign([...ticked.value], to.value)) ticked.value = new Set();
  };
  const { size } = ticked.value;
  const all = shown.value.filter(soon).map((turn) => turn.field);
  if (size === 0)
    return (
      <section class="assign">
        <p>{t('today.tickHint')}</p>
        {all.length > 0 && (
          <button type="button" onClick={() => (ticked.value = new Set(all))}>
            {t('today.tickAll', { n: all.length })}
          </button>
        )}
      </section>
    );
  return (
    <section class="assign">
      <Choice
        label={tn('today.give', size)}
        value={to.value}
        options={[
          ['', t('today.openTo')],
          ...walkers.value.map((p) => [p.id, p.name] as const),
        ]}
        onChange={(id) => (to.value = id)}
      />
      <button type="button" class="loud" onClick={() => void go()}>
        {t('today.giveNow')}
      </button>
      <button type="button" onClick={() => (ticked.value = new Set())}>
        {t('today.tickNone')}
      </button>
    </section>
  );
}

function Failed() {
  if (failed.value.length + besideFailed.value.length === 0) return null;
  return (
    <section class="group">
      <h2>{t('today.failed')}</h2>
      <ul class="lines">
        {failed.value.map((r) => (
          <li key={r.field.id}>
            <a class="line" href={`/field/${r.field.id}`}>
              {one('field', r.field.id)?.body.name}
            </a>
          </li>
        ))}
        {besideFailed.value.map(({ of, field, name }) => (
          <li key={field} class="line">
            {name} <span class="quiet">{of.known.accountName}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Near() {
  if (here.value || atDesk.value || !('geolocation' in navigator)) return null;
  const ask = () => void placeNow(true).then((place) => (here.value = place ?? here.value));
  return (
    <button type="button" onClick={ask}>
      {t('today.near')}
    </button>
  );
}

function Rule() {
  const rule = order.value?.rule;
  if (!rule || turns.value.length === 0) return null;
  return (
    <Fold title={t('today.how')}>
      <p>{say(rule)}</p>
      <p class="aside">{t('today.ours')}</p>
    </Fold>
  );
}
