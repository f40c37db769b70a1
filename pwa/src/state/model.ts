// The model card, made with the engine's words when the program is built: loaded at its first use and
// kept for the offline case.
import { effect, signal } from '@preact/signals';
import { language, type Language } from './prefs';

interface Group {
  title: string;
  words: string[];
  /** Anchor, what stands outside, the model, the residual. */
  rows: string[][];
}

export interface ModelCard {
  title: string;
  intro: string[];
  kinds: { title: string; counts: string[]; words: string; models: string[] };
  anchors: { title: string; words: string[]; head: string[]; groups: Group[] };
  lists: { title: string; items: string[] }[];
}

const files: Record<Language, () => Promise<{ default: ModelCard }>> = {
  en: () => import('../../../internal/card/model-card.en.json'),
  fr: () => import('../../../internal/card/model-card.fr.json'),
};

const cards = signal<Partial<Record<Language, ModelCard>>>({});

/** Loads the card whenever the language changes; gives the end of that. */
export const watchModel = (): (() => void) =>
  effect(() => {
    const lang = language.value;
    if (cards.peek()[lang]) return;
    void files[lang]().then((m) => (cards.value = { ...cards.peek(), [lang]: m.default }));
  });

export const modelCard = (): ModelCard | undefined => cards.value[language.value];
