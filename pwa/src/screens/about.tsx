// Which version this is, what it promises, and the cautions of the trade.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { all, planYear } from '../state/records';
import { compute } from '../state/report';
import { caseOf } from '../state/records';
import { t } from '../state/words';
import { Cautions } from '../ui/caution';
import { Frame } from '../ui/frame';
import { Leader } from '../ui/figure';

export const clientVersion = '0.1.0';

export function About() {
  const engine = useSignal('');
  const persisted = useSignal<boolean | undefined>(undefined);
  useEffect(() => {
    void navigator.storage?.persisted?.().then((yes) => (persisted.value = yes));
    const season = all('season').find((s) => s.body.cropYear === planYear.value);
    if (!season) return;
    const field = season.body.field;
    void compute(caseOf(field), field, planYear.value).then((s) => {
      if (s.at === 'here') engine.value = s.evaluated.report.engineVersion;
    });
  }, []);
  return (
    <Frame title={t('nav.about')} back="/settings" backWords={t('nav.settings')}>
      <p>{t('about.what')}</p>
      <Leader label={t('about.client')}>{clientVersion}</Leader>
      {engine.value && <Leader label={t('about.engine')}>{engine.value}</Leader>}
      <h2>{t('about.storage')}</h2>
      <p>{persisted.value ? t('about.kept') : t('about.mayClear')}</p>
      <h2>{t('about.promise')}</h2>
      <p>{t('about.promiseWords')}</p>
      <p>{t('about.limits')}</p>
      <p>{t('about.models')}</p>
      <a class="button" href="/model">
        {t('figure.model')}
      </a>
      <Cautions />
    </Frame>
  );
}
