// What a list says about one field: how it fails, what to apply, what was dug.
import type { Headline } from '../wire.gen';
import { report } from '../state/report';
import { cropOf, planYear, type FieldRow } from '../state/records';
import { inColumn, showAmount } from '../state/unit';
import { hasKey, t, within, type Key } from '../state/words';

export interface Standing {
  headline: Headline | undefined;
  /** "server" = as the farm server stored it; "here" = computed on this device just now. */
  from: 'server' | 'here' | 'none';
}

/** The stored result, unless something newer is still only on this device. */
export function standing(row: FieldRow, touched: boolean): Standing {
  if (row.result && !touched) return { headline: row.result.body.headline, from: 'server' };
  if (!row.season) return { headline: undefined, from: 'none' };
  const state = report(row.field.id, planYear.value).value;
  if (state.at === 'here') return { headline: state.evaluated.report.headline, from: 'here' };
  return { headline: row.result?.body.headline, from: row.result ? 'server' : 'none' };
}

/** Something about this field waits on this device. */
export const isTouched = (row: FieldRow): boolean =>
  [row.field, row.season, row.test, row.lastDig].some((r) => r?.pending);

/** "Field pea · Two Culverts Land · 112 ac": which field this is. */
export function fieldFacts(row: FieldRow): string {
  const { field, grower } = row;
  const { area } = field.body;
  const crop = cropWords(cropOf(row) ?? '') || t('fields.noCrop');
  const size = area ? `${area.value} ${area.unit}` : '';
  return [crop, grower?.body.name, size].filter(Boolean).join(' · ');
}

/** A crop by its name; a word that somebody else entered stands as it is. */
export function cropWords(crop: string): string {
  const key = `crop.${crop}`;
  return hasKey(key) ? t(key) : crop;
}

export function starterWords(h: Headline): string {
  if (h.starterDecision === 'none') return t('starter.none');
  if (h.starterDecision === 'unknown' || h.starterN === undefined) return t('starter.unknown');
  const amount = showAmount(h.starterN, 'lb/ac');
  return h.starterDecision === 'optional'
    ? t('starter.optional', { amount })
    : t('starter.apply', { amount });
}

/** Below the column's head, which has the unit, the amount alone says it. */
export function StarterRate({ h }: { h: Headline }) {
  if (h.starterDecision === 'none') return <>{t('decision.none')}</>;
  if (h.starterDecision === 'unknown' || h.starterN === undefined)
    return <>{t('decision.unknown')}</>;
  return (
    <>
      {inColumn(h.starterN, 'lb/ac').number}
      {h.starterDecision === 'optional' && <small>{t('desk.optional')}</small>}
    </>
  );
}

/** The class, with "so far" where more has to be dug before it stands. */
export function classWords(digClass: string, enough?: string): string {
  const words = t(`class.${digClass}` as Key);
  return enough === 'more' ? t('verdict.soFarClass', { class: within(words) }) : words;
}

/** A shape for each class, so that nobody has to tell colours apart. */
export function ClassMark({ of }: { of: string }) {
  const shapes: { [of: string]: string } = {
    notYet: 'M10 2 a8 8 0 1 0 .01 0 M10 6 v4 l3 2',
    adequate: 'M3 10 l5 5 l9 -11',
    borderline: 'M3 12 q3.5 -7 7 0 t7 0',
    poor: 'M4 5 h12 l-6 11 z',
    none: 'M4 4 l12 12 M16 4 l-12 12',
    tooEarly: 'M10 2 a8 8 0 1 0 .01 0 M10 6 v4 l3 2',
  };
  return (
    <svg class={`class-mark class-${of}`} viewBox="0 0 20 20" aria-hidden="true">
      <path d={shapes[of] ?? 'M4 10 h12'} />
    </svg>
  );
}
