// The end of the day: what is only on this phone, sending it, and the sentence that ends the work.
import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { useEffect } from 'preact/hooks';
import type { Mutation } from '../wire.gen';
import { plantCount } from '../dig/draft';
import { openAccount } from '../state/accounts';
import { beside, besideKnown, syncBeside, type Beside } from '../state/beside';
import { openDigs } from '../state/dig';
import { countByField, fieldOf, type FieldCount } from '../state/hand-in';
import { leftHere, type Left } from '../state/left';
import { photoPauseMS, photosHere } from '../state/photo';
import { practising } from '../state/practice';
import { atDesk } from '../state/place';
import { one } from '../state/records';
import { conflicts } from '../state/review';
import { clearHere, open, phase, shutOut, syncNow, tally } from '../state/session';
import { hasKey, showMoment, t, tn } from '../state/words';
import { Frame, PhoneNav } from '../ui/frame';
import { RefusedPhotos } from '../ui/photo';
import { stateWords } from '../ui/sync-line';

const nameOf = (field: string): string => one('field', field)?.body.name ?? '';

interface Line {
  what: string;
  when: string;
}

export function describe(text: string): Line {
  const m = JSON.parse(text) as Mutation;
  const kind = `kindOf.${m.kind}`; // a newer program may know more kinds
  const what = [t(hasKey(kind) ? kind : 'kindOf.unknown'), nameOf(fieldOf(m))].filter(Boolean).join(' · ');
  return { what, when: showMoment(m.phoneTime, Date.now()) };
}

const clearWords = (): string => t(atDesk.value ? 'handIn.nothing' : 'handIn.away');

export function HandIn() {
  const list = useSignal<Line[]>([]);
  const counts = useSignal<FieldCount[]>([]);
  const left = useSignal<readonly Left[] | undefined>(undefined);
  const { waiting, look, lastAnswer } = tally.value;
  useEffect(() => {
    void leftHere().then((found) => (left.value = found));
    void read().then((found) => ([list.value, counts.value] = found));
  }, [waiting, lastAnswer]);
  const elsewhere = beside.value.filter((b) => b.waiting + b.photos + b.digs + b.look > 0);
  const none = waiting + photosHere.value + openDigs.value.length + look + elsewhere.length === 0;
  const clear = none && besideKnown.value && left.value?.length === 0 && lastAnswer !== '';
  if (practising.value) return <NothingToHandIn />;
  if (shutOut.value) return <ShutOut waiting={waiting} list={list.value} />;
  return (
    <Frame title={t('handIn.title')} foot={<PhoneNav />}>
      <p class={clear ? 'key words' : 'lead'}>{clear ? clearWords() : stateWords()}</p>
      {clear && <p>{stateWords()}</p>}
      {!clear && <PhaseWords />}
      {openDigs.value.length > 0 && <OpenDrafts />}
      {photosHere.value > 0 && <p>{tn('photo.toSend', photosHere.value)}</p>}
      {photosHere.value > 0 && photoPauseMS.value > 0 && <p>{t('photo.pause')}</p>}
      <RefusedPhotos />
      <Elsewhere of={elsewhere} />
      <LeftBy of={left.value ?? []} />
      <Counts of={counts.value} />
      {waiting > 0 && <Waiting list={list.value} />}
      {conflicts.value.length > 0 && (
        <p>
          <a class="button" href="/review">
            {tn('review.nav', conflicts.value.length)}
          </a>
        </p>
      )}
      {look > 0 && (
        <p>
          <a class="alone" href="/look">
            {tn('state.look', look)}
          </a>
        </p>
      )}
      {phase.value.at === 'signIn' ? (
        <a class={clear ? 'button' : 'loud'} href="/sign-in">
          {t('signIn.button')}
        </a>
      ) : (
        <button class={clear ? '' : 'loud'} type="button" onClick={sendAll}>
          {t('handIn.send')}
        </button>
      )}
      <p class="aside">{t('handIn.often')}</p>
      <a class="button" href="/ready">
        {t('ready.title')}
      </a>
    </Frame>
  );
}

function sendAll(): void {
  void syncNow(true);
  void syncBeside(true);
}

/** What other accounts still hold here: the phone is not to be put away on one account's word. */
function Elsewhere({ of }: { of: readonly Beside[] }) {
  const { route } = useLocation();
  if (of.length === 0) return null;
  return (
    <section class="group">
      <h2>{t('handIn.elsewhere')}</h2>
      {of.map(({ known, waiting, photos, digs, look }) => (
        <div key={known.farm + known.person}>
          <p>
            <b>{known.accountName}</b>
          </p>
          {waiting > 0 && <p>{tn('state.toSend', waiting)}</p>}
          {photos > 0 && <p>{tn('photo.toSend', photos)}</p>}
          {digs > 0 && <p>{tn('handIn.digsOpen', digs)}</p>}
          {look > 0 && <p>{tn('state.look', look)}</p>}
          <button
            type="button"
            onClick={() => void openAccount(known).then(() => route('/hand-in'))}
          >
            {t('me.open', { account: known.accountName, name: known.name })}
          </button>
        </div>
      ))}
    </section>
  );
}

/** What waits for somebody who has signed out: only that person sends it. */
function LeftBy({ of }: { of: readonly Left[] }) {
  return (
    <>
      {of.map(({ known, pieces }) => (
        <p key={known.farm + known.person} class="notice">
          {tn('handIn.left', pieces, { name: known.name })}
        </p>
      ))}
    </>
  );
}

async function read(): Promise<[{ what: string; when: string }[], FieldCount[]]> {
  const store = open.value?.store;
  const [waiting, sent] = store ? await Promise.all([store.waiting(), store.sent()]) : [[], []];
  return [waiting.map((w) => describe(w.text)), countByField(waiting, sent, Date.now())];
}

function NothingToHandIn() {
  return (
    <Frame title={t('handIn.title')} foot={<PhoneNav />}>
      <p class="lead">{t('practice.band')}</p>
      <p>{t('practice.apart')}</p>
    </Frame>
  );
}

/** Field by field, what was entered here and what of it has arrived: the two must be equal. */
function Counts({ of }: { of: readonly FieldCount[] }) {
  if (of.length === 0) return null;
  return (
    <table class="counts">
      <caption>{t('handIn.counts')}</caption>
      <thead>
        <tr>
          <th>{t('nav.field')}</th>
          <th class="number">{t('handIn.here')}</th>
          <th class="number">{t('handIn.there')}</th>
        </tr>
      </thead>
      <tbody>
        {of.map((c) => (
          <tr key={c.field}>
            <th scope="row">{nameOf(c.field) || t('kindOf.settings')}</th>
            <td class="number">{c.here}</td>
            <td class="number">
              {c.atServer}
              {c.here === c.atServer && ` ${t('handIn.equal')}`}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Access has ended, the work has not: it is handed in, for the owner to look at. */
function ShutOut({ waiting, list }: { waiting: number; list: readonly Line[] }) {
  return (
    <Frame title={t('shutOut.title')} foot={<PhoneNav />}>
      <p class="lead">{waiting > 0 ? tn('shutOut.waiting', waiting) : t('shutOut.done')}</p>
      {waiting > 0 && <PhaseWords />}
      {waiting > 0 && <Waiting list={list} />}
      {waiting > 0 ? (
        <button class="loud" type="button" onClick={() => void syncNow(true)}>
          {t('handIn.send')}
        </button>
      ) : (
        <>
          <p>{t('shutOut.clearWhy')}</p>
          <button class="loud" type="button" onClick={() => void clearHere()}>
            {t('shutOut.clear')}
          </button>
        </>
      )}
      <a class="button" href="/enrol">
        {t('signIn.haveCode')}
      </a>
    </Frame>
  );
}

function PhaseWords() {
  const p = phase.value;
  if (p.at === 'offline')
    return (
      <p>
        {t('state.offline')}. {t('handIn.safe')}
      </p>
    );
  if (p.at === 'signIn') return <p>{t('signIn.again')}</p>;
  if (p.at === 'busy')
    return (
      <p>
        {p.pauseMS === undefined
          ? t('handIn.busy')
          : tn('handIn.pause', Math.ceil(p.pauseMS / 1000))}{' '}
        {t('handIn.safe')}
      </p>
    );
  if (p.at === 'refused')
    return (
      <p class="error">
        {t('handIn.refused', { why: p.message })} {t('handIn.safe')}
      </p>
    );
  return null;
}

function OpenDrafts() {
  return (
    <section>
      <h2>{t('handIn.open')}</h2>
      <ul class="lines">
        {openDigs.value.map((d) => (
          <li key={d.id}>
            <a class="line" href={`/field/${d.field}/dig`}>
              <b>{one('field', d.field)?.body.name}</b> {tn('dig.plants', plantCount(d))}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Waiting({ list }: { list: readonly Line[] }) {
  return (
    <section>
      <h2>{t('handIn.onlyHere')}</h2>
      <ul class="lines plain">
        {list.map((w, i) => (
          <li key={i}>
            {w.what} <span class="quiet">{t('state.kept', { when: w.when })}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
