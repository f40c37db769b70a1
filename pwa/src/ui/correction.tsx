// What was said of a closed dig afterwards.
import { correctionsOf, placeOf } from '../state/correct';
import { t } from '../state/words';
import { plantWords } from './spot';

export function Corrections({ dig }: { dig: string }) {
  const list = correctionsOf(dig);
  if (list.length === 0) return null;
  return (
    <section>
      <h2>{t('correct.list')}</h2>
      <ul class="lines plain">
        {list.map(({ id, body, pending }) => {
          const place = body.plant ? placeOf(dig, body.plant) : undefined;
          return (
            <li key={id}>
              {place && <b>{t('correct.plant', place)}: </b>}
              {body.drop && t(body.plant ? 'correct.dropped' : 'correct.wholeDrop')}
              {body.right && plantWords(body.right)}. “{body.why}”
              {pending && <span class="quiet"> {t('state.onlyHere')}</span>}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
