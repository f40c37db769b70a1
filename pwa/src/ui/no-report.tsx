// What stands where a field's answer would, while there is none.
import { problemWords } from '../state/problem';
import type { ReportState } from '../state/report';
import { t } from '../state/words';

export function NoReport({ state }: { state: Exclude<ReportState, { at: 'here' }> }) {
  if (state.at === 'waiting') return <p>{t('report.waiting')}</p>;
  const words =
    state.at === 'failed'
      ? t('report.failed', { why: state.message })
      : t('report.none', { why: problemWords(state.problem) });
  return <p class="error">{words}</p>;
}
