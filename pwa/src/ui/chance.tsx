// A chance is said as a range in words and drawn as a range; never as a bare percentage.
import { t } from '../state/words';

/** Chances that people say, as [part, whole]. */
const said: readonly (readonly [number, number])[] = [
  [1, 100], [1, 50], [1, 30], [1, 20], [1, 15], [1, 12], [1, 10], [1, 8], [1, 7], [1, 6], [1, 5],
  [1, 4], [1, 3], [2, 5], [1, 2], [3, 5], [2, 3], [3, 4], [4, 5], [9, 10], [19, 20], [49, 50],
];

const logit = (p: number): number => Math.log(p / (1 - p));

/** The nearest chance that people say; undefined where none is near (under 1 in 140, over 66 in 67). */
export function nearest(p: number): readonly [number, number] | undefined {
  const least = 1 / 140;
  const most = 66 / 67;
  if (!(p >= least && p <= most)) return undefined;
  const far = ([a, b]: readonly [number, number]) => Math.abs(logit(a / b) - logit(p));
  return said.reduce((best, next) => (far(next) < far(best) ? next : best));
}

export function chanceWords(p: number): string {
  const found = nearest(p);
  if (!found) return p < 0.5 ? t('chance.under') : t('chance.over');
  return t('chance.in', { part: found[0], whole: found[1] });
}

/** "about 1 in 5, between 1 in 12 and 1 in 3". */
export function chanceRange(p: number, low?: number, high?: number): string {
  const mid = chanceWords(p);
  const about = nearest(p) ? t('chance.about', { chance: mid }) : mid;
  if (low === undefined || high === undefined) return about;
  const [a, b] = [chanceWords(low), chanceWords(high)];
  if (a === b) return about;
  return t('chance.between', { about, low: a, high: b });
}

interface BarProps {
  value: number;
  low?: number | undefined;
  high?: number | undefined;
  /** The end of the scale; 1 for chances. */
  most?: number;
  label: string;
  wide?: boolean;
}

/** A scale with the range as a band and the middle as a mark; reads in black and white too. */
export function RangeBar({ value, low, high, most = 1, label, wide }: BarProps) {
  const width = 200;
  const x = (v: number) => 4 + (Math.min(Math.max(v / most, 0), 1) * (width - 8));
  const [a, b] = [x(low ?? value), x(high ?? value)];
  return (
    <svg class={wide ? 'range wide' : 'range'} viewBox={`0 0 ${width} 22`} role="img" aria-label={label}>
      {[0, 0.25, 0.5, 0.75, 1].map((tick) => (
        <line key={tick} class="tick" x1={x(tick * most)} x2={x(tick * most)} y1="13" y2="20" />
      ))}
      <line class="scale" x1={x(0)} x2={x(most)} y1="13" y2="13" />
      <rect class="band" x={a} y="7" width={Math.max(b - a, 1)} height="12" />
      <path class="mark" d={`M${x(value)} 1 l5 8 v9 h-10 v-9 z`} />
    </svg>
  );
}
