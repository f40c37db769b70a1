// The state of a person's work in fixed words. Nothing is called "at the farm server" before the
// server has said so, and having no signal is not an error.
import { computed } from '@preact/signals';
import { practising } from '../state/practice';
import { phase, shutOut, tally } from '../state/session';
import { showMoment, t, tn } from '../state/words';
import { keeping, keptAt } from '../state/keep';

/** The one line that says where the work is. */
export function stateWords(): string {
  const { waiting, lastAnswer } = tally.value;
  const p = phase.value;
  const now = Date.now();
  if (practising.value) return t('practice.title');
  if (shutOut.value) return t('shutOut.line');
  if (p.at === 'sending') return t('state.sending', { part: p.sending, whole: p.waiting });
  if (waiting > 0) return tn('state.toSend', waiting);
  if (p.at === 'offline') return t('state.offline');
  if (p.at === 'signIn') return t('state.signIn');
  if (lastAnswer !== '') return t('state.atServer', { when: showMoment(lastAnswer, now) });
  return t('state.first');
}

export function SyncLine() {
  const { waiting, look } = tally.value;
  const offline = phase.value.at === 'offline';
  return (
    <a class="state" href={look > 0 ? '/look' : '/hand-in'} aria-live="polite" data-live>
      <span class="state-main">{stateWords()}</span>
      {offline && waiting > 0 && <span>{t('state.offline')}</span>}
      {look > 0 && <span class="state-look">{tn('state.look', look)}</span>}
    </a>
  );
}

const keptWords = computed(() =>
  keptAt.value === '' ? '' : t('state.kept', { when: showMoment(keptAt.value, Date.now()) }),
);
const keptClass = computed(() => (keeping.value > 0 ? 'kept waits' : 'kept'));

/**
 * "Kept on this phone 14:02", said only while the disk has all that the screen shows. The class
 * goes into the page by itself: it changes twice with every tap.
 */
export function KeptLine() {
  if (keptWords.value === '') return null;
  return (
    <p class={keptClass} aria-live="polite">
      {keptWords.value}
    </p>
  );
}
