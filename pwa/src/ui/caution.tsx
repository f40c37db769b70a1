// The cautions of the trade, wherever a plan stands. The engine's own where it has spoken for this
// field; the general ones otherwise.
import type { Report } from '../wire.gen';
import { say, t } from '../state/words';

interface Props {
  report?: Report | undefined;
  /** The crop is in the ground: what would be warned of the seed row is past. */
  seeded?: boolean;
}

const ofTheSeedRow = 'caution.seedRow';

export function Cautions({ report, seeded = false }: Props) {
  const cautions = report?.cautions ?? [];
  const left = cautions.filter(({ code }) => !seeded || !code.startsWith(ofTheSeedRow));
  const own = left.map(say).filter((words) => words !== '');
  return (
    <section class="cautions">
      <h2>{t('caution.title')}</h2>
      <ul>
        {(own.length > 0 ? own : general()).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </section>
  );
}

function general(): string[] {
  const keys = ['label', 'gear', 'entry', 'mix', 'clean', 'judge'] as const;
  return keys.map((key) => t(`caution.${key}`));
}
