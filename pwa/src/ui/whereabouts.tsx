// How well this device knows where it is, and the one button that asks it.
import { poorM } from '../outline/track';
import { fix, listen, receiver } from '../state/position';
import { showNumber, t } from '../state/words';

export function Whereabouts() {
  const state = receiver.value;
  if (state === 'off')
    return (
      <button type="button" onClick={() => listen()}>
        {t('gps.ask')}
      </button>
    );
  const me = fix.value;
  const poor = state === 'on' && me && me.accuracyM > poorM;
  return (
    <p class={poor ? 'notice' : 'aside'} aria-live="polite">
      {words(state, me?.accuracyM)}
    </p>
  );
}

function words(state: string, accuracyM: number | undefined): string {
  switch (state) {
    case 'asking':
      return t('gps.asking');
    case 'resting':
      return t('gps.resting');
    case 'refused':
      return t('gps.refused');
    case 'none':
      return t('gps.none');
  }
  const far = showNumber(Math.round(accuracyM ?? 0));
  return t((accuracyM ?? 0) > poorM ? 'gps.poor' : 'gps.on', { far });
}
