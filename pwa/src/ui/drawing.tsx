// Drawings of our own. They teach what to look for and stand beside words, never instead of them.

const Svg = ({
  box,
  label,
  children,
}: {
  box: string;
  label: string;
  children: preact.ComponentChildren;
}) => (
  <svg
    class="drawing"
    viewBox={box}
    {...(label ? { role: 'img', 'aria-label': label } : { 'aria-hidden': 'true' })}
  >
    {children}
  </svg>
);

/** A nodule cut open; inside is the answer it stands for. */
export function NoduleCut({ inside }: { inside: string }) {
  return (
    <Svg box="0 0 64 44" label="">
      <path class="root-line" d="M2 10 C20 6 44 8 62 4" />
      <path class="nodule-skin" d="M20 8 C6 12 6 40 30 41 C56 42 58 14 42 7 Z" />
      {inside !== '' && (
        <path class={`nodule-${inside}`} d="M24 13 C14 17 15 35 31 36 C48 37 49 18 39 12 Z" />
      )}
      {inside === 'brown' && <path class="crumb" d="M26 22 l5 3 M34 19 l-3 6 M30 30 l6 -2" />}
      {inside === 'white' && <path class="crumb thin" d="M24 28 h14 M26 22 h10" />}
    </Svg>
  );
}

const lateral = [
  'M32 26 C22 28 14 34 6 36',
  'M32 36 C42 38 50 44 58 46',
  'M32 46 C24 50 18 56 10 60',
];
const spots: Record<string, readonly (readonly [number, number])[]> = {
  crownAndLateral: [
    [27, 16],
    [37, 18],
    [29, 24],
    [16, 32],
    [46, 41],
    [19, 54],
  ],
  mostlyCrown: [
    [27, 15],
    [37, 16],
    [28, 22],
    [36, 24],
  ],
  mostlyLateral: [
    [16, 32],
    [9, 36],
    [46, 41],
    [54, 45],
    [19, 54],
  ],
  none: [],
};

/** A root with its nodules where the answer says they sit. */
export function RootPosition({ position }: { position: string }) {
  return (
    <Svg box="0 0 64 66" label="">
      <line class="ground" x1="2" x2="62" y1="9" y2="9" />
      <path class="stem" d="M32 9 C32 6 33 4 32 1" />
      <path class="root-line thick" d="M32 9 C31 26 33 44 32 65" />
      {lateral.map((d) => (
        <path key={d} class="root-line" d={d} />
      ))}
      {(spots[position] ?? []).map(([x, y]) => (
        <circle key={`${x}-${y}`} class="nodule" cx={x} cy={y} r="3.6" />
      ))}
    </Svg>
  );
}

const clusterCount: Record<string, number> = { over5: 7, '3to5': 4, under3: 2, none: 0 };
const clusterAt = [
  [16, 12],
  [40, 16],
  [22, 25],
  [46, 30],
  [14, 37],
  [36, 42],
  [24, 52],
] as const;

/** A root with as many clusters as the answer says. */
export function Clusters({ nodules }: { nodules: string }) {
  return (
    <Svg box="0 0 64 62" label="">
      <path class="root-line thick" d="M31 0 C30 20 32 40 31 62" />
      {clusterAt.slice(0, clusterCount[nodules] ?? 0).map(([x, y]) => (
        <g key={`${x}-${y}`}>
          <line class="root-line" x1="31" y1={y - 4} x2={x} y2={y} />
          <circle class="nodule" cx={x - 2} cy={y} r="3" />
          <circle class="nodule" cx={x + 2} cy={y - 2} r="3" />
          <circle class="nodule" cx={x + 1} cy={y + 2.5} r="3" />
        </g>
      ))}
    </Svg>
  );
}

const tall: Record<string, number> = { vigorous: 4, small: 2, pale: 3, yellow: 3 };

/** A young plant: how high, and how green. */
export function Vigour({ vigour }: { vigour: string }) {
  const pairs = tall[vigour] ?? 3;
  return (
    <Svg box="0 0 64 62" label="">
      <line class="ground" x1="6" x2="58" y1="58" y2="58" />
      <path class="stem" d={`M32 58 V${52 - pairs * 11}`} />
      {Array.from({ length: pairs }, (_, i) => 46 - i * 11).map((y) => (
        <g key={y} class={`leaf-${vigour}`}>
          <path
            d={`M32 ${y + 4} C20 ${y + 4} 14 ${y - 2} 12 ${y - 6} C24 ${y - 8} 31 ${y - 2} 32 ${y + 4} Z`}
          />
          <path
            d={`M32 ${y + 4} C44 ${y + 4} 50 ${y - 2} 52 ${y - 6} C40 ${y - 8} 33 ${y - 2} 32 ${y + 4} Z`}
          />
        </g>
      ))}
    </Svg>
  );
}

/** Where counting starts: the two scale-leaf nodes below the first true leaf. */
export function Nodes({ withScale, label }: { withScale: boolean; label: string }) {
  const from = withScale ? 1 : -1;
  const at = [77, 64, 48, 33, 18];
  return (
    <Svg box="0 0 110 92" label={label}>
      <line class="ground" x1="4" x2="76" y1="84" y2="84" />
      <path class="stem" d="M40 90 V10" />
      {at.map((y, i) => (
        <g key={y}>
          {i < 2 ? (
            <path class="scale-leaf" d={`M40 ${y} l7 -4 l-1 5 z`} />
          ) : (
            <g class="leaf-vigorous">
              <path
                d={`M40 ${y} C28 ${y} 20 ${y - 6} 18 ${y - 10} C30 ${y - 12} 39 ${y - 6} 40 ${y} Z`}
              />
              <path
                d={`M40 ${y} C52 ${y} 60 ${y - 6} 62 ${y - 10} C50 ${y - 12} 41 ${y - 6} 40 ${y} Z`}
              />
            </g>
          )}
          <text x="84" y={y + 3} class="node-no">
            {i + from > 0 ? i + from : '–'}
          </text>
        </g>
      ))}
    </Svg>
  );
}

interface LessonWords {
  crown: string;
  lateral: string;
  nodule: string;
  label: string;
}

/** Before the first plant: where to look, named. */
export function Lesson({ crown, lateral: side, nodule, label }: LessonWords) {
  return (
    <svg class="lesson" viewBox="0 0 150 84" role="img" aria-label={label}>
      <g transform="translate(42 2)">
        <line class="ground" x1="-30" x2="90" y1="9" y2="9" />
        <path class="stem" d="M32 9 C32 6 33 4 32 -2" />
        <path class="root-line thick" d="M32 9 C31 30 33 54 32 78" />
        {['M32 26 C20 30 8 38 -6 40', 'M32 40 C46 44 58 54 70 56', 'M32 56 C24 62 14 70 4 74'].map(
          (d) => (
            <path key={d} class="root-line" d={d} />
          ),
        )}
        {[
          [27, 16],
          [37, 18],
          [29, 24],
          [12, 36],
          [2, 39],
          [50, 46],
          [62, 53],
          [18, 67],
        ].map(([x, y]) => (
          <circle key={`${x}-${y}`} class="nodule" cx={x} cy={y} r="3.8" />
        ))}
      </g>
      <text x="90" y="22">
        {crown}
      </text>
      <text x="2" y="58">
        {side}
      </text>
      <text x="112" y="68">
        {nodule}
      </text>
    </svg>
  );
}
