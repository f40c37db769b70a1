// The door to a dig: a field under a label's re-entry time is refused here, whichever way somebody
// came. A dig that is open already is never taken away: what was dug is kept, and the screen says to
// leave. What is typed in from paper is no visit.
import { useEffect } from 'preact/hooks';
import { keepTime } from '../state/clock';
import { isBlank } from '../dig/draft';
import { drafts } from '../state/dig';
import { entryOf } from '../state/entry';
import { one } from '../state/records';
import { loadEngineWords, t } from '../state/words';
import { EntryLine, EntryNotice } from '../ui/entry';
import { Frame } from '../ui/frame';
import { DigScreen } from './dig';
import { NotHere } from './not-here';

export function DigDoor({ id = '' }: { id?: string }) {
  useEffect(() => {
    loadEngineWords();
    return keepTime();
  }, []);
  const field = one('field', id);
  if (!field) return <NotHere />;
  const entry = entryOf(id).value;
  const draft = drafts.value.get(id);
  if (draft && (draft.paper || !isBlank(draft))) {
    const closed = entry?.state === 'closed' && !draft.paper ? entry : undefined;
    return <DigScreen id={id} closed={closed} />;
  }
  if (!entry) return <EntryLine field={id} />;
  if (entry.state !== 'closed') return <DigScreen id={id} />;
  return (
    <Frame title={t('entry.refused')} back={`/field/${id}`} backWords={field.body.name}>
      <EntryNotice entry={entry} />
      <p>{t('entry.refusedWhat', { field: field.body.name })}</p>
      <a class="button" href="/today">
        {t('entry.others')}
      </a>
    </Frame>
  );
}
