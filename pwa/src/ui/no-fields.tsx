// What stands where the fields would, while there are none on this device.
import { phase, tally } from '../state/session';
import { t } from '../state/words';

export function NoFields() {
  if (tally.value.lastAnswer !== '') return <p>{t('fields.none')}</p>;
  return <p>{phase.value.at === 'offline' ? t('fields.firstOffline') : t('fields.firstLoad')}</p>;
}
