// The cautions of the trade, wherever a plan stands. The engine's own where it has spoken for this
// field; the general ones otherwise.
import type { Report } from '../wire.gen';
import { say, t } from '../state/words';

export function Cautions({ report }: { report?: Report | undefined }) {
  const own = (report?.cautions ?? []).map(say).filter((words) => words !== '');
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
