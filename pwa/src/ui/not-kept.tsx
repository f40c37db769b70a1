// A write failed: the one thing that may fill the screen and make a noise.
import { useEffect } from 'preact/hooks';
import { notKept } from '../state/trouble';
import { startAgain } from '../state/session';
import { t } from '../state/words';

function beep(): void {
  try {
    const audio = new AudioContext();
    const tone = audio.createOscillator();
    tone.connect(audio.destination);
    tone.start();
    const seconds = 0.4;
    tone.stop(audio.currentTime + seconds);
  } catch {
    // No sound here: the words and the vibration must do.
  }
}

export function NotKept() {
  const why = notKept.value;
  useEffect(() => {
    if (!why) return;
    navigator.vibrate?.([300, 100, 300]);
    beep();
  }, [why]);
  if (!why) return null;
  const read = () => {
    notKept.value = undefined;
    // Nothing of this account is left here: it starts again as on a new phone.
    if (why === 'emptied') void startAgain();
  };
  return (
    <div class="not-kept" role="alertdialog" aria-labelledby="not-kept-words">
      <p id="not-kept-words" class="key words">
        {t(`notKept.${why}`)}
      </p>
      <p>{t(why === 'emptied' ? 'notKept.startAgain' : 'notKept.what')}</p>
      <button type="button" class="loud" onClick={read}>
        {t('notKept.read')}
      </button>
    </div>
  );
}
