// "Do not enter before ...": it stands above everything else on a field, and names whose clock it
// goes by.
import { useEffect } from 'preact/hooks';
import { keepTime, moment, momentWords } from '../state/clock';
import { entryOf, type Entry } from '../state/entry';
import { passes } from '../state/records';
import { loadEngineWords, say, t } from '../state/words';

export function EntryLine({ field }: { field: string }) {
  useEffect(() => {
    loadEngineWords();
    return keepTime();
  }, []);
  const entry = entryOf(field).value;
  if (entry && entry.state !== 'open') return <EntryNotice entry={entry} />;
  if (!passes.value.has(field)) return null; // nothing was put on: there is nothing to wait for
  return (
    <p class="notice" role="note">
      {t(entry ? 'entry.over' : 'entry.waiting')}
    </p>
  );
}

export function EntryNotice({ entry, clock = true }: { entry: Entry; clock?: boolean }) {
  if (entry.state === 'open') return null;
  return (
    <div class={entry.state === 'closed' ? 'keep-out' : 'notice'} role="note">
      <p class="keep-out-words">{entryWords(entry)}</p>
      {entry.why.map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
      {clock && <ClockWords />}
    </div>
  );
}

function entryWords(entry: Entry): string {
  if (entry.state === 'closed') return t('entry.closed', { when: momentWords(entry.until) });
  return t(entry.state === 'ask' ? 'entry.ask' : 'entry.unknown');
}

/** The clock that re-entry times are held against. */
export function ClockWords() {
  return <p class="aside">{t('entry.clock', { now: momentWords(moment.value) })}</p>;
}
