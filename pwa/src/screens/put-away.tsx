// Putting a field or a grower away, and bringing it back. Nothing is deleted: what is put away
// leaves the lists and is still found by a search.
import { useSignal } from '@preact/signals';
import { edit } from '../state/edit';
import { all, type Rec } from '../state/records';
import { t, tn } from '../state/words';

type Kind = 'field' | 'grower';

interface Props {
  rec: Rec<Kind>;
  /** Called when it has left the lists. */
  gone?: () => void;
}

const bringBack = (rec: Rec<Kind>) => void edit(rec.kind, rec.id, { archived: false });

export function PutAway({ rec, gone }: Props) {
  const asked = useSignal(false);
  const { kind, body } = rec;
  if (body.archived) {
    return (
      <p class="notice">
        {t('putAway.isAway', { name: body.name })}{' '}
        <button type="button" onClick={() => bringBack(rec)}>
          {t(`putAway.back.${kind}`)}
        </button>
      </p>
    );
  }
  const go = async () => {
    await edit(kind, rec.id, { archived: true });
    asked.value = false;
    gone?.();
  };
  if (!asked.value) {
    return (
      <button type="button" onClick={() => (asked.value = true)}>
        {t(`putAway.ask.${kind}`)}
      </button>
    );
  }
  return (
    <div class="notice">
      <p>{kind === 'field' ? t('putAway.what') : growerWords(rec.id)}</p>
      <button type="button" onClick={() => void go()}>
        {t('putAway.now')}
      </button>
      <button type="button" onClick={() => (asked.value = false)}>
        {t('form.cancel')}
      </button>
    </div>
  );
}

const growerWords = (id: string): string =>
  tn('putAway.grower', all('field').filter((f) => f.body.grower === id).length);

/** Growers that were put away, with the way back; nothing where there are none. */
export function AwayGrowers() {
  const away = all('grower').filter((g) => g.body.archived);
  if (away.length === 0) return null;
  return (
    <details class="reason">
      <summary>{tn('putAway.growers', away.length)}</summary>
      <ul class="lines plain">
        {away.map((g) => (
          <li key={g.id}>
            {g.body.name}{' '}
            <button type="button" onClick={() => bringBack(g)}>
              {t('putAway.back.grower')}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
