// What stands where a field's answer would, while there is none.
import { problemWords } from '../state/problem';
import type { ReportState } from '../state/report';
import { noCrop } from '../state/records';
import type { Problem } from '../wire.gen';
import { t } from '../state/words';

const isUnsaid = ({ message }: Problem): boolean => message.startsWith(`is "${noCrop}"`);

export function NoReport({ state }: { state: Exclude<ReportState, { at: 'here' }> }) {
  if (state.at === 'waiting') return <p>{t('report.waiting')}</p>;
  // Wheat or canola this year: nothing is wrong, there is only nothing to answer.
  if (state.at === 'none' && state.problem.field === 'crop' && !isUnsaid(state.problem))
    return <p>{t('report.notPulse')}</p>;
  const words =
    state.at === 'failed'
      ? t('report.failed', { why: state.message })
      : t('report.none', { why: problemWords(state.problem) });
  return <p class="error">{words}</p>;
}
