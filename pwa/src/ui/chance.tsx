// A chance drawn as a range on a scale.

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
  const x = (v: number) => 4 + Math.min(Math.max(v / most, 0), 1) * (width - 8);
  const [a, b] = [x(low ?? value), x(high ?? value)];
  return (
    <svg
      class={wide ? 'range wide' : 'range'}
      viewBox={`0 0 ${width} 22`}
      role="img"
      aria-label={label}
    >
      {[0, 0.25, 0.5, 0.75, 1].map((tick) => (
        <line key={tick} class="tick" x1={x(tick * most)} x2={x(tick * most)} y1="13" y2="20" />
      ))}
      <line class="scale" x1={x(0)} x2={x(most)} y1="13" y2="13" />
      <rect class="band" x={a} y="7" width={Math.max(b - a, 1)} height="12" />
      <path class="mark" d={`M${x(value)} 21 v-13 l-5 -7 h10 l-5 7`} />
    </svg>
  );
}
