// A page that is not there, or whose record this device does not have (yet).
import { t } from '../state/words';
import { Frame } from '../ui/frame';

export function NotHere() {
  return (
    <Frame title={t('notHere.title')} back="/">
      <p>{t('notHere.words')}</p>
    </Frame>
  );
}
