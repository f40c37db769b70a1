// Putting a closed dig right, one plant at a time. The dig itself stays; the reason stands with it.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { stepOf, whole, type Started } from '../dig/draft';
import { correct, type Said } from '../state/correct';
import { one } from '../state/records';
import { loadEngineWords, t, type Key } from '../state/words';
import type { Dig, Plant } from '../wire.gen';
import { Corrections } from '../ui/correction';
import { TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { Keys } from '../ui/key';
import { plantWords } from '../ui/spot';
import { KeptLine } from '../ui/sync-line';
import { NotHere } from './not-here';

export function Correct({ id = '', dig = '' }: { id?: string; dig?: string }) {
  const field = one('field', id);
  const record = one('dig', dig);
  const chosen = useSignal('');
  useEffect(loadEngineWords, []);
  if (!field || !record) return <NotHere />;
  return (
    <Frame title={t('correct.title')} back={`/field/${id}/dug/${dig}`} backWords={field.body.name}>
      <p>{t('correct.what')}</p>
      <Corrections dig={dig} />
      <KeptLine />
      {chosen.value ? (
        <One dig={dig} plant={chosen.value} done={() => (chosen.value = '')} />
      ) : (
        <Plants dig={record.body} choose={(plant) => (chosen.value = plant)} />
      )}
    </Frame>
  );
}

function Plants({ dig, choose }: { dig: Dig; choose: (plant: string) => void }) {
  return (
    <ul class="lines plain">
      {dig.spots.flatMap((spot, i) =>
        spot.plants.map((p, j) => (
          <li key={p.id}>
            <button type="button" class="line" onClick={() => choose(p.id)}>
              <b>{t('correct.plant', { spot: i + 1, plant: j + 1 })}</b> {plantWords(p)}
            </button>
          </li>
        )),
      )}
    </ul>
  );
}

function One({ dig, plant, done }: { dig: string; plant: string; done: () => void }) {
  const started = useSignal<Started>({});
  const why = useSignal('');
  const error = useSignal('');
  const right = rightOf(started.value, plant);
  const put = async (said: Said) => {
    error.value = why.value.trim() === '' ? t('correct.needWhy') : '';
    if (error.value === '' && (await correct(dig, plant, said, why.value.trim()))) done();
  };
  const step = stepOf(started.value);
  return (
    <section class="answer">
      <TextField
        label={t('correct.why')}
        value={why.value}
        live
        onChange={(v) => (why.value = v)}
        error={error.value}
      />
      {right ? (
        <p class="in-hand">{plantWords(right)}</p>
      ) : (
        <>
          <h2 class="ask">{t(`ask.${step}` as Key)}</h2>
          <Keys
            step={step}
            onKey={(key) => (started.value = { ...started.value, [step]: key })}
          />
        </>
      )}
      <div class="row">
        <button type="button" onClick={done}>
          {t('form.cancel')}
        </button>
        <button type="button" onClick={() => (started.value = {})}>
          {t('correct.again')}
        </button>
        <button type="button" onClick={() => void put({ drop: true })}>
          {t('correct.drop')}
        </button>
        {right && (
          <button type="button" class="loud" onClick={() => void put({ right })}>
            {t('correct.keep')}
          </button>
        )}
      </div>
    </section>
  );
}

function rightOf(started: Started, id: string): Plant | undefined {
  const done = whole(started, id);
  if (!done) return undefined;
  const { id: _id, ...plant } = done;
  return plant;
}
