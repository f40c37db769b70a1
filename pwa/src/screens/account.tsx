// The account's own record: what all its plans share.
import { editSettings, type Values } from '../state/edit';
import { settings } from '../state/records';
import { mayPlan } from '../state/session';
import { showDate, t } from '../state/words';
import { Choice, TextField } from '../ui/form';
import { Frame } from '../ui/frame';
import { Amount } from '../ui/amount';
import { KeptLine } from '../ui/sync-line';
import { PricesForm } from './prices-form';
import { RulesForm } from './rules-form';

export function Account() {
  const s = settings.value;
  if (!s || !mayPlan.value)
    return (
      <Frame title={t('account.title')} back="/">
        <p>{t('account.none')}</p>
      </Frame>
    );
  const put = (set: Values) => editSettings(set);
  return (
    <Frame wide title={t('account.title')} back="/">
      <div class="kept-room">
        <KeptLine />
      </div>
      <div class="entries">
        <TextField
          label={t('first.account')}
          value={s.name}
          needed
          tidy={(v) => v.trim()}
          put={(v) => put({ name: v })}
        />
        <TextField
          label={t('account.timeZone')}
          hint={t('account.timeZoneHint')}
          value={s.timeZone}
          needed
          tidy={(v) => v.trim()}
          put={(v) => put({ timeZone: v })}
        />
        <TextField
          label={t('account.currency')}
          hint={t('account.currencyHint')}
          value={s.currency}
          needed
          tidy={(v) => v.trim().toUpperCase()}
          put={(v) => put({ currency: v })}
        />
        <Choice
          label={t('account.units')}
          value={s.units}
          options={[
            ['imperial', t('units.imperial')],
            ['metric', t('units.metric')],
          ]}
          put={(v) => put({ units: v })}
        />
        <Choice
          label={t('account.rule')}
          hint={t('account.ruleHint')}
          value={s.starterRule}
          options={[
            ['published', t('rule.published')],
            ['practice', t('rule.practice')],
          ]}
          put={(v) => put({ starterRule: v })}
        />
        <Choice
          label={t('account.nodes')}
          value={s.nodeCount}
          options={[
            ['withScale', t('convention.withScale')],
            ['trueNodes', t('convention.trueNodes')],
          ]}
          put={(v) => put({ nodeCount: v })}
        />
        <Amount
          label={t('plan.nPrice')}
          units={['$/lb N', '$/kg N']}
          value={s.nitrogenPrice}
          put={(v) => put({ nitrogenPrice: v })}
        />
      </div>
      <RulesForm />
      <PricesForm />
      {s.today && <p class="notice">{t('account.today', { date: showDate(s.today) })}</p>}
    </Frame>
  );
}
