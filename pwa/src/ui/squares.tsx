// A code of black and white squares for a camera. Always dark on light: some cameras read nothing else.

const margin = 4; // squares of white around it, as the standard asks (ISO/IEC 18004)

export function Squares({ rows, label }: { rows: readonly string[]; label: string }) {
  const size = rows.length + 2 * margin;
  const dark = rows
    .flatMap((row, y) =>
      [...row].map((c, x) => (c === '1' ? `M${x + margin} ${y + margin}h1v1h-1z` : '')),
    )
    .join('');
  return (
    <svg class="squares" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label}>
      <path d={`M0 0h${size}v${size}h-${size}z`} fill="#fff" />
      <path d={dark} fill="#000" />
    </svg>
  );
}
