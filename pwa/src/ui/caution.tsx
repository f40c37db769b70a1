// The cautions of the trade, wherever a plan stands: advice for a trained person to judge.
import { t } from '../state/words';

export function Cautions() {
  return (
    <section class="cautions">
      <h2>{t('caution.title')}</h2>
      <ul>
        <li>{t('caution.label')}</li>
        <li>{t('caution.gear')}</li>
        <li>{t('caution.entry')}</li>
        <li>{t('caution.mix')}</li>
        <li>{t('caution.clean')}</li>
        <li>{t('caution.judge')}</li>
      </ul>
    </section>
  );
}
