// What was counted, spot by spot, so that a second look at the field knows where to go.
import type { Dig, DigPart, Plant, Quantity, Stand } from '../wire.gen';
import { showNumber, showUnit, t, tn, type Key } from '../state/words';
import { figureWords } from './figure';
import { plantResult } from './verdict';

export function plantWords(p: Plant): string {
  const parts = [t(`vigour.${p.vigour}` as Key)];
  if (p.nodules !== '') parts.push(t(`nodules.${p.nodules}` as Key));
  if (p.count !== undefined) parts.push(tn('dig.nodules', p.count));
  if (p.pink !== undefined) parts.push(t('dig.pink', { n: p.pink }));
  if (p.nodules === 'none') return parts.join('\u00a0· ');
  parts.push(t(`inside.${p.inside || 'notCut'}` as Key), t(`position.${p.position}` as Key));
  return parts.join('\u00a0· ');
}

export function Spots({ dig, part }: { dig: Dig; part: DigPart | undefined }) {
  let plantNo = -1;
  return (
    <details class="reason">
      <summary>{t('dug.plants')}</summary>
      {dig.spots.map((spot, i) => (
        <section key={spot.id}>
          <h3>
            {t('dig.spot', { n: i + 1 })} · {tn('dig.plants', spot.plants.length)}
          </h3>
          {spot.note && <p>{spot.note}</p>}
          <ol>
            {spot.plants.map((plant) => {
              const result = part?.plantResults[++plantNo]?.result;
              return (
                <li key={plant.id}>
                  {plantWords(plant)}
                  {result && <b> · {t(`plant.${plantResult(result, part)}` as Key)}</b>}
                </li>
              );
            })}
          </ol>
        </section>
      ))}
      <Looked dig={dig} />
      {dig.stand && (
        <p>
          {t('stand.title')}:{' '}
          {dig.stand.map((s) => `${s.plants} (${groundWords(s)})`).join(' · ')}
          {part?.stand.value !== undefined && ` = ${figureWords(part.stand)}`}
        </p>
      )}
      {dig.weeds && (
        <p>
          {t('dug.weeds')}: {dig.weeds}
        </p>
      )}
      {dig.note && <p>{dig.note}</p>}
    </details>
  );
}

/** What else was looked for: seen, or looked for and not there. */
function Looked({ dig }: { dig: Dig }) {
  const words = (list: readonly string[]) =>
    list.map((s) => t(`suspicion.${s}` as Key)).join(', ');
  return (
    <>
      {dig.suspicions && (
        <p>
          {t('dug.seen')}: {words(dig.suspicions)}
        </p>
      )}
      {dig.notSeen && (
        <p>
          {t('dug.notSeen')}: {words(dig.notSeen)}
        </p>
      )}
    </>
  );
}

const size = (q: Quantity): string => `${showNumber(q.value, 2)} ${showUnit(q.unit)}`;

/** The ground of a stand count in words. */
export function groundWords({ row, spacing, hoop }: Omit<Stand, 'plants'>): string {
  if (hoop) return t('stand.hoop', { size: size(hoop) });
  if (!row || !spacing) return '';
  return t('stand.row', { length: size(row), spacing: size(spacing) });
}
