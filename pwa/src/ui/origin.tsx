// Where a shown answer comes from: this device, the farm server, or both with the same figures.
import type { Evaluated } from '../engine/bridge';
import type { FieldRow } from '../state/records';
import { conflictsOf } from '../state/review';
import { showMoment, t } from '../state/words';

interface Props {
  row: FieldRow;
  evaluated: Evaluated;
  touched: boolean;
}

export function originWords({ row, evaluated, touched }: Props): string {
  const stored = row.result?.body;
  if (!stored) return t('origin.here');
  const when = showMoment(stored.computedAt, Date.now());
  const same =
    stored.inputHash === evaluated.inputHash &&
    stored.engineVersion === evaluated.report.engineVersion;
  if (same) return t('origin.same', { when });
  return touched ? t('origin.newer', { when }) : t('origin.differs', { when });
}

export function Origin(props: Props) {
  return (
    <>
      <p class="aside origin">{originWords(props)}</p>
      {conflictsOf(props.row.field.id).length > 0 && (
        <p class="notice">
          {t('review.here')} <a href="/review">{t('review.title')}</a>
        </p>
      )}
    </>
  );
}
