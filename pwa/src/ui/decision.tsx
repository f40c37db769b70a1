// What was decided on a field, by whom, when and why.
import { decisionsOf } from '../state/decision';
import { showDate, showNumber, showUnit, t } from '../state/words';
import type { Decision } from '../wire.gen';

/** "Rescue nitrogen, 40 lb/ac N, urea, by Fri 19 June": the decision in one line. */
export function decisionWords({ choice, rate, product, byDay }: Decision): string {
  const words = [
    t(`choice.${choice as Choice}`),
    rate && `${showNumber(rate.value, 1)} ${showUnit(rate.unit)} N`,
    product && t(`rescueProduct.${product as 'urea' | 'uan'}`),
    byDay && t('choice.byDay', { date: showDate(byDay) }),
  ];
  return words.filter(Boolean).join(', ');
}

export const choices = ['apply', 'digAgain', 'wait', 'none', 'confirmed'] as const;
export type Choice = (typeof choices)[number];

/** The decision that stands, with its reason; nothing where nobody has decided. */
export function Decided({ field, year }: { field: string; year: number }) {
  const [stands] = decisionsOf(field, year);
  if (!stands) return null;
  const { body, pending } = stands;
  return (
    <section class="answer decided">
      <h2>{t('decided.title')}</h2>
      <p class="key words">{decisionWords(body)}</p>
      <p>“{body.reason}”</p>
      <p class="aside">
        {t('decided.by', { who: body.who, date: showDate(body.date) })}
        {pending && <span class="quiet"> {t('state.onlyHere')}</span>}
      </p>
    </section>
  );
}

/** The decision that stands, in one line of a list. */
export function DecidedLine({ field, year }: { field: string; year: number }) {
  const [stands] = decisionsOf(field, year);
  if (!stands) return null;
  const { body } = stands;
  return (
    <span class="line-words">
      {t('decided.line', { words: decisionWords(body), who: body.who })}
    </span>
  );
}

/** Decisions that a later one has taken the place of. */
export function Earlier({ field, year }: { field: string; year: number }) {
  const list = decisionsOf(field, year).slice(1);
  if (list.length === 0) return null;
  return (
    <details class="reason">
      <summary>{t('decided.earlier')}</summary>
      <ul class="lines plain">
        {list.map(({ id, body }) => (
          <li key={id}>
            <b>{decisionWords(body)}</b>. “{body.reason}”{' '}
            {t('decided.by', { who: body.who, date: showDate(body.date) })}
          </li>
        ))}
      </ul>
    </details>
  );
}
