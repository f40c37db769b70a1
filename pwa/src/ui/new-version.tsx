// Offered, never forced: and only while nobody is in the middle of a dig.
import { openDigs } from '../state/dig';
import { takeNewVersion, waitingVersion } from '../state/update';
import { t } from '../state/words';

export function NewVersion() {
  if (!waitingVersion.value || openDigs.value.length > 0) return null;
  return (
    <p class="notice">
      {t('update.ready')}{' '}
      <button type="button" onClick={takeNewVersion}>
        {t('update.take')}
      </button>
    </p>
  );
}
