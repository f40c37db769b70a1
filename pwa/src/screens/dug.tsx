// One closed dig with its verdict, as this device computes it.
import { useEffect } from 'preact/hooks';
import { inSeason, one } from '../state/records';
import { report } from '../state/report';
import { loadEngineWords, showDate, t, tn } from '../state/words';
import { Decided } from '../ui/decision';
import { Frame } from '../ui/frame';
import { NoReport } from '../ui/no-report';
import { KeptLine } from '../ui/sync-line';
import { RescueLink } from '../ui/rescue';
import { Verdict } from '../ui/verdict';
import { NotHere } from './not-here';
import { Photos } from '../ui/photo';
import { Spots } from '../ui/spot';
import { Corrections } from '../ui/correction';

export function Dug({ id = '', dig = '' }: { id?: string; dig?: string }) {
  const field = one('field', id);
  const record = one('dig', dig);
  useEffect(loadEngineWords, []);
  if (!field || !record) return <NotHere />;
  const state = report(id, record.body.cropYear).value;
  const here = state.at === 'here' ? state.evaluated.report : undefined;
  const part = here?.digs.find((d) => d.id === dig);
  return (
    <Frame
      title={field.body.name}
      back={`/field/${id}`}
      backWords={t('nav.field')}
      foot={
        <a class="loud" href={inSeason.value ? '/today' : '/'}>
          {t('nav.nextField')}
        </a>
      }
    >
      <p class="under-title">
        {t('dug.when', { date: showDate(record.body.date) })} ·{' '}
        {tn('dig.spots', record.body.spots.length)}
      </p>
      {record.pending && <KeptLine />}
      {here && part && <Verdict part={part} report={here} />}
      <Decided field={id} year={record.body.cropYear} />
      {here && <RescueLink field={id} report={here} />}
      {state.at !== 'here' && <NoReport state={state} />}
      <Spots dig={record.body} part={part} />
      <Photos dig={dig} />
      <Corrections dig={dig} />
      <p>
        <a class="button" href={`/field/${id}/dug/${dig}/correct`}>{t('correct.title')}</a>
      </p>
    </Frame>
  );
}
