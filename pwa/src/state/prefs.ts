// What this device remembers about how a person likes to see things. Losing it costs a tap.
import { effect, signal } from '@preact/signals';

export type Language = 'en' | 'fr';
export type Theme = 'auto' | 'light' | 'night';
export type Hand = 'right' | 'left';

function remembered<T extends string>(key: string, known: readonly T[], otherwise: T): T {
  try {
    const value = localStorage.getItem(`hilum.${key}`);
    return known.find((k) => k === value) ?? otherwise;
  } catch {
    return otherwise; // storage may be blocked; the default serves
  }
}

function kept<T extends string>(key: string, known: readonly T[], otherwise: T) {
  const value = signal<T>(remembered(key, known, otherwise));
  effect(() => {
    try {
      localStorage.setItem(`hilum.${key}`, value.value);
    } catch {
      // Blocked or full: it holds for this visit.
    }
  });
  return value;
}

const browserLanguage = (): Language => (navigator.language.startsWith('fr') ? 'fr' : 'en');

export const language = kept<Language>('language', ['en', 'fr'], browserLanguage());
export const theme = kept<Theme>('theme', ['auto', 'light', 'night'], 'auto');
export const hand = kept<Hand>('hand', ['right', 'left'], 'right');

effect(() => {
  document.documentElement.lang = language.value;
  document.documentElement.dataset['theme'] = theme.value;
  document.documentElement.dataset['hand'] = hand.value;
});
