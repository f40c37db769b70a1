// Putting a closed dig right, one plant at a time. The dig itself stays; the reason stands with it.
import { useSignal, type Signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { answered, grown, isNumber, mostDigits, stepOf, whole, type Started } from '../dig/draft';
import { correct, type Said } from '../state/correct';
import { judgedOf } from '../state/dig';
import { one, type Rec } from '../state/records';
import { loadEngineWords, t, type Key } from '../state/words';
import type { Dig, Plant } from '../wire.gen';
import { Corrections } from '../ui/correction';
import { drawn, isOpen, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { Keys } from '../ui/key';
import { NumberKeys } from '../ui/number-keys';
import { tapped, useOnce } from '../ui/once';
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
        <One dig={record} plant={chosen.value} done={() => (chosen.value = '')} />
      ) : (
        <Plants dig={record.body} choose={(plant) => (chosen.value = plant)} />
      )}
    </Frame>
  );
}

function Plants({ dig, choose }: { dig: Dig; choose: (plant: string) => void }) {
  return (
    <ul class="open-digs">
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

/** Where a plant of a dig stands, and what was said of it. */
function plantAt(dig: Dig, id: string): string {
  const spot = dig.spots.findIndex((s) => s.plants.some((p) => p.id === id));
  const plants = dig.spots[spot]?.plants ?? [];
  const no = plants.findIndex((p) => p.id === id);
  const place = t('correct.plant', { spot: spot + 1, plant: no + 1 });
  return plants[no] ? `${place}: ${plantWords(plants[no])}` : place;
}

interface OneProps {
  dig: Rec<'dig'>;
  plant: string;
  done: () => void;
}

function One({ dig, plant, done }: OneProps) {
  const started = useSignal<Started>({});
  const why = useSignal('');
  const error = useSignal('');
  const once = useOnce();
  const right = rightOf(started.value, plant);
  const page = useRef<HTMLElement>(null);
  const put = async (said: Said) => {
    error.value = why.value.trim() === '' ? t('correct.needWhy') : '';
    if (error.value !== '') void drawn().then(() => isOpen(page.current));
    else if (await correct(dig.id, plant, said, why.value.trim())) done();
  };
  // The list below which it was chosen may have been a long one.
  useEffect(() => page.current?.scrollIntoView(), []);
  return (
    <section class="answer" ref={page}>
      <p>
        <b>{plantAt(dig.body, plant)}</b>
      </p>
      <TextField
        label={t('correct.why')}
        value={why.value}
        live
        onChange={(v) => (why.value = v)}
        error={error.value}
        open={error.value !== ''}
      />
      {right ? (
        <p class="in-hand">{plantWords(right)}</p>
      ) : (
        <Ask dig={dig.body} started={started} />
      )}
      <div class="row">
        <button type="button" onClick={done}>
          {t('form.cancel')}
        </button>
        <button type="button" onClick={() => (started.value = {})}>
          {t('correct.again')}
        </button>
        <button type="button" onClick={() => once(() => put({ drop: true }))}>
          {t('correct.drop')}
        </button>
        {right && (
          <button type="button" class="loud" onClick={() => once(() => put({ right }))}>
            {t('correct.keep')}
          </button>
        )}
      </div>
    </section>
  );
}

/** The next question of a plant, by keys or by a number. */
function Ask({ dig, started }: { dig: Dig; started: Signal<Started> }) {
  const judged = judgedOf(dig.field, dig.cropYear);
  const step = stepOf(started.value, judged);
  const { typed = '' } = started.value;
  const type = (next: string) => (started.value = { ...started.value, typed: next });
  const give = (answer: string) =>
    tapped(() => (started.value = answered(started.value, judged, answer)));
  return (
    <>
      <h2 class="ask">{t(`ask.${step}` as Key)}</h2>
      {isNumber(step) ? (
        <>
          <p class="count">{typed || '\u00a0'}</p>
          <NumberKeys
            plant={started.value}
            step={step}
            canUndo={typed !== ''}
            onDigit={(d) => tapped(() => type(grown(typed, d, mostDigits)))}
            onUndo={() => tapped(() => type(typed.slice(0, -1)))}
            onAgain={() => type('')}
            onDone={give}
          />
        </>
      ) : (
        <Keys step={step} onKey={give} />
      )}
    </>
  );
}

function rightOf(started: Started, id: string): Plant | undefined {
  const done = whole(started, id);
  if (!done) return undefined;
  const { id: _id, ...plant } = done;
  return plant;
}
