// A write failed: the one thing that may fill the screen and make a noise.
import { useEffect } from 'preact/hooks';
import { notKept } from '../state/keep';
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
  return (
    <div class="not-kept" role="alertdialog" aria-labelledby="not-kept-words">
      <p id="not-kept-words" class="key words">
        {t(why === 'full' ? 'notKept.full' : 'notKept.failed')}
      </p>
      <p>{t('notKept.what')}</p>
      <button type="button" class="loud" onClick={() => (notKept.value = undefined)}>
        {t('notKept.read')}
      </button>
    </div>
  );
}
