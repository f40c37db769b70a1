// What last year's crop took and left: the facts that the next winter starts from.
import { useEffect } from 'preact/hooks';
import { CROPS, type Season } from '../wire.gen';
import { editSeason, type Change } from '../state/edit';
import { noCrop, planYear, seasons } from '../state/records';
import { report } from '../state/report';
import { loadEngineWords, say, sayCode, t } from '../state/words';
import { Amount } from '../ui/amount';
import { figureWords, Leader } from '../ui/figure';
import { Fold } from '../ui/fold';
import { NumberField } from '../ui/form';
import { cropWords } from '../ui/headline';
import { partWords, Part } from '../ui/working';

const isPulse = (crop: string): boolean => CROPS.some((known) => known === crop);

export function HarvestForm({ field }: { field: string }) {
  useEffect(loadEngineWords, []);
  const year = planYear.value - 1;
  const body = seasons.value.get(field)?.find((s) => s.body.cropYear === year)?.body;
  return (
    <section class="edit">
      <h3>{t('harvest.title', { year })}</h3>
      {body && body.crop !== noCrop ? (
        <Taken field={field} body={body} />
      ) : (
        <p>{t('harvest.noCrop', { year })}</p>
      )}
    </section>
  );
}

function Taken({ field, body }: { field: string; body: Season }) {
  const { crop, cropYear } = body;
  const put = (change: Change<Season>) => editSeason(field, cropYear, change);
  return (
    <>
      <p class="aside">
        {cropWords(crop)}. {t('harvest.why')}
      </p>
      <div class="entries">
        <Amount
          label={t('harvest.yield')}
          units={['bu/ac', 'kg/ha']}
          value={body.harvested}
          put={(v) => put({ harvested: v })}
        />
        <Amount
          label={t('harvest.nitrogen')}
          units={['lb/ac', 'kg/ha']}
          value={body.nitrogen}
          put={(v) => put({ nitrogen: v })}
        />
        {isPulse(crop) && (
          <NumberField
            label={t('harvest.protein')}
            unit="%"
            value={body.protein}
            put={(v) => put({ protein: v })}
          />
        )}
      </div>
      {isPulse(crop) && body.harvested && <Balance field={field} cropYear={cropYear} />}
    </>
  );
}

/** What the harvested pulse crop left of nitrogen, and what it is worth to the next crop. */
function Balance({ field, cropYear }: { field: string; cropYear: number }) {
  const state = report(field, cropYear).value;
  if (state.at !== 'here') return null;
  const { report: r } = state.evaluated;
  const { net, credit, chosen, messages } = r.balance;
  const worth = credit.find((c) => c.rule === chosen)?.figure;
  return (
    <>
      <Leader label={t('harvest.net')}>{figureWords(net)}</Leader>
      {worth && (
        <Leader label={`${t('harvest.credit')}, ${sayCode(`credit.${chosen}`)}`}>
          {figureWords(worth)}
        </Leader>
      )}
      {messages.map((m) => (
        <p key={m.code} class="aside">
          {say(m)}
        </p>
      ))}
      <Fold title={partWords('balance')}>
        <Part name="balance" report={r} />
      </Fold>
    </>
  );
}
