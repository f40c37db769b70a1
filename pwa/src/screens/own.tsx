// What a grower sees: the own fields, as the farm server worked them out. Read only, online only.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Field, FieldLine, Result } from '../wire.gen';
import * as people from '../state/people';
import { open } from '../state/session';
import { chanceWords } from '../state/unit';
import { showMoment, t } from '../state/words';
import { Cautions } from '../ui/caution';
import { Leader } from '../ui/figure';
import { Frame, PhoneNav } from '../ui/frame';
import { ClassMark, classWords, cropWords, starterWords } from '../ui/headline';

export function Own() {
  const list = useSignal<FieldLine[] | undefined>(undefined);
  const error = useSignal('');
  const load = async () => {
    try {
      list.value = (await people.ask<{ fields: FieldLine[] }>('own')).fields;
      error.value = '';
    } catch (failure) {
      error.value = people.refusalWords(failure);
    }
  };
  useEffect(() => void load(), []);
  return (
    <Frame title={t('own.title')} foot={<PhoneNav />}>
      <p class="under-title">{t('own.lead', { account: open.value?.known.accountName ?? '' })}</p>
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      {list.value?.length === 0 && <p>{t('own.none')}</p>}
      {list.value?.map((l) => (
        <OneField key={l.id} field={l.field as Field} result={l.result as Result | undefined} />
      ))}
      <button type="button" onClick={() => void load()}>
        {t('own.again')}
      </button>
      <Cautions />
    </Frame>
  );
}

function OneField({ field, result }: { field: Field; result: Result | undefined }) {
  const h = result?.headline;
  return (
    <section class="group">
      <h2>
        {field.name}
        {result && ` · ${cropWords(result.crop)} ${result.cropYear}`}
      </h2>
      {!h && <p>{t('own.nothing')}</p>}
      {h && <Leader label={t('own.starter')}>{starterWords(h)}</Leader>}
      {h?.fail !== undefined && (
        <Leader label={t('answer.fail')}>{chanceWords(h.fail)}</Leader>
      )}
      {h?.digClass && (
        <Leader label={t('own.dug')}>
          <ClassMark of={h.digClass} /> {classWords(h.digClass, h.digEnough)}
        </Leader>
      )}
      {result && (
        <p class="quiet">{t('own.at', { when: showMoment(result.computedAt, Date.now()) })}</p>
      )}
    </section>
  );
}
