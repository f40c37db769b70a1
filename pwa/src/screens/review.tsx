// What needs a decision: two people gave one value differently. Both stand here; one tap settles.
import { useEffect } from 'preact/hooks';
import type { ConflictValue } from '../wire.gen';
import { label } from '../state/problem';
import { one, type Rec } from '../state/records';
import { conflicts, loadNames, maySettle, personName, settle } from '../state/review';
import { loadEngineWords, showMoment, showShortDate, t, type Key } from '../state/words';
import { valueWords } from '../ui/any-value';
import { role } from '../state/session';
import { Frame } from '../ui/frame';
import { Asides } from './asides';

export function Review() {
  useEffect(() => void loadNames(), []);
  useEffect(loadEngineWords, []); // for the units
  const list = conflicts.value;
  return (
    <Frame title={t('review.title')} back="/">
      {list.length === 0 ? <p>{t('review.none')}</p> : <p>{t('review.what')}</p>}
      {list.map((c) => (
        <Decision key={c.id} conflict={c} />
      ))}
      {role.value === 'owner' && <Asides />}
    </Frame>
  );
}

/** Which of several of a field: the year of a crop year, the day of a soil test. */
function whichOf(record: string): string {
  const season = one('season', record)?.body;
  const test = one('soilTest', record)?.body;
  return season ? String(season.cropYear) : test ? showShortDate(test.sampled) : '';
}

function Decision({ conflict }: { conflict: Rec<'conflict'> }) {
  const { of, field, name, values } = conflict.body;
  const ground = field ? one('field', field)?.body.name : undefined;
  const kind = [t(`kindOf.${of}` as Key), whichOf(conflict.body.record)].filter(Boolean).join(' ');
  const title = [ground, kind, name && label(name)].filter(Boolean);
  return (
    <section class="answer">
      <h2>{title.join(' · ')}</h2>
      <ul class="sides">
        {values.map((v, i) => (
          <Side key={v.seq} conflict={conflict} value={v} shown={i === 0} />
        ))}
      </ul>
      {!maySettle(conflict) && <p>{t('review.notYours')}</p>}
    </section>
  );
}

/** A single value is set large; a list, such as a test's layers, a line each. */
function Words({ name, value }: { name: string; value: unknown }) {
  if (!Array.isArray(value)) return <p class="key words">{valueWords(name, value)}</p>;
  return (
    <>
      {value.map((item, i) => (
        <p key={i}>
          <b>{valueWords(name, item)}</b>
        </p>
      ))}
    </>
  );
}

interface SideProps {
  conflict: Rec<'conflict'>;
  value: ConflictValue;
  shown: boolean;
}

function Side({ conflict, value, shown }: SideProps) {
  const who = personName(value.person) || t('review.somebody');
  const when = value.at ? showMoment(value.at, Date.now()) : '';
  return (
    <li>
      <Words name={conflict.body.name} value={value.value} />
      <p>
        {[who, when].filter(Boolean).join(', ')}
        {shown && <span class="quiet"> {t('review.shown')}</span>}
      </p>
      {maySettle(conflict) && (
        <button type="button" onClick={() => void settle(conflict, value)}>
          {t('review.take')}
        </button>
      )}
    </li>
  );
}
