// What was counted, spot by spot, so that a second look at the field knows where to go.
import type { Dig, DigPart, Plant } from '../wire.gen';
import { t, tn, type Key } from '../state/words';

export function plantWords(p: Plant): string {
  const parts = [t(`vigour.${p.vigour}` as Key), t(`nodules.${p.nodules}` as Key)];
  if (p.nodules === 'none') return parts.join(', ');
  parts.push(t(`inside.${p.inside || 'notCut'}` as Key), t(`position.${p.position}` as Key));
  return parts.join(', ');
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
                  {result && <b> · {t(`plant.${result}` as Key)}</b>}
                </li>
              );
            })}
          </ol>
        </section>
      ))}
      {dig.suspicions && <p>{dig.suspicions.map((s) => t(`suspicion.${s}` as Key)).join(', ')}</p>}
      {dig.note && <p>{dig.note}</p>}
    </details>
  );
}
