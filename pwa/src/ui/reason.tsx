// The working behind the answer, in the order in which it was reached.
import type { Option, Report } from '../wire.gen';
import { say, t } from '../state/words';
import { optionWords } from './answer';
import { FigureBlock } from './figure';
import { Fold } from './fold';
import { cropWords } from './headline';

export function Reasons({ report }: { report: Report }) {
  return (
    <>
      <NitrogenReasons report={report} />
      <StarterReasons report={report} />
      <RhizobiaReasons report={report} />
      <OptionReasons report={report} />
    </>
  );
}

function NitrogenReasons({ report }: { report: Report }) {
  const n = report.nitrogen;
  return (
    <Fold title={t('reason.nitrogen')}>
      <FigureBlock label={t('reason.to6')} figure={n.to6in} report={report} />
      <FigureBlock label={t('reason.to12')} figure={n.to12in} report={report} />
      <FigureBlock label={t('reason.to24')} figure={n.to24in} report={report} />
      <FigureBlock label={t('reason.external')} figure={n.external} report={report} />
      <FigureBlock label={t('reason.supply')} figure={n.supplyShare} report={report} />
      {n.notes.map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
    </Fold>
  );
}

function StarterReasons({ report }: { report: Report }) {
  const { published, practice, seedRow } = report.starter;
  return (
    <Fold title={t('reason.starter')}>
      <h3>{t('rule.published')}</h3>
      <FigureBlock label={t('reason.rate')} figure={published.rate} report={report} />
      <FigureBlock label={t('reason.withProduct')} figure={published.withProduct} report={report} />
      {published.reasons.map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
      <h3>{t('rule.practice')}</h3>
      <FigureBlock label={t('reason.rate')} figure={practice.rate} report={report} />
      {practice.reasons.map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
      <FigureBlock label={t('reason.seedRow')} figure={seedRow} report={report} />
    </Fold>
  );
}

function RhizobiaReasons({ report }: { report: Report }) {
  const { now, walk } = report.rhizobia;
  return (
    <Fold title={t('reason.rhizobia')}>
      <FigureBlock label={t('reason.now')} figure={now} report={report} />
      <table class="walk">
        <caption>{t('reason.walk')}</caption>
        <thead>
          <tr>
            <th>{t('year')}</th>
            <th>{t('crop')}</th>
            <th>{t('reason.level')}</th>
          </tr>
        </thead>
        <tbody>
          {walk.map((w) => (
            <tr key={w.cropYear}>
              <td>{w.cropYear}</td>
              <td>
                {w.crop ? cropWords(w.crop) : t('history.noRecord')}
                {(w.notes ?? []).map((m) => (
                  <small key={m.code}> {say(m)}</small>
                ))}
              </td>
              <td class="number">{w.level.toFixed(1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Fold>
  );
}

function OptionReasons({ report }: { report: Report }) {
  const { options, planned, reasons } = report.inoculation;
  return (
    <Fold title={t('reason.options')}>
      {reasons.map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
      {planned && (
        <OptionBlock
          title={t('reason.planned', { option: optionWords(planned.key) })}
          option={planned}
          report={report}
        />
      )}
      {options.map((o) => (
        <OptionBlock key={o.key} title={optionWords(o.key)} option={o} report={report} />
      ))}
    </Fold>
  );
}

function OptionBlock({ title, option, report }: { title: string; option: Option; report: Report }) {
  if (option.notAllowed) {
    return (
      <>
        <h3>{title}</h3>
        <p>{say(option.notAllowed)}</p>
      </>
    );
  }
  return (
    <>
      <h3>{title}</h3>
      <FigureBlock label={t('reason.fail')} figure={option.fail} report={report} />
      <FigureBlock label={t('reason.adequate')} figure={option.adequate} report={report} />
      <FigureBlock label={t('reason.good')} figure={option.good} report={report} />
      <FigureBlock label={t('reason.lossYield')} figure={option.lossYield} report={report} />
      <FigureBlock label={t('reason.lossMoney')} figure={option.lossMoney} report={report} />
      {(option.notes ?? []).map((m, i) => (
        <p key={i}>{say(m)}</p>
      ))}
    </>
  );
}
