// A field of another account in the day's list. A tap opens that account, and the field in it.
import { useLocation } from 'preact-iso';
import { openAccount } from '../state/accounts';
import { besideTurns, type BesideTurn } from '../state/beside-walk';
import { say, t } from '../state/words';
import { EntryNotice } from './entry';
import { cropWords } from './headline';

export function BesideLine({ of: line, no }: { of: BesideTurn; no: number }) {
  const { of, turn, name, crop, grower, walker } = line;
  const { route } = useLocation();
  const go = () => void openAccount(of.known).then(() => route(`/field/${turn.field}`));
  const entry = { state: turn.entry as 'open' | 'ask' | 'closed', until: turn.until ?? '' };
  const [why = '', second] = turn.why.map(say);
  return (
    <li class="turn">
      <span class="turn-no">{no}</span>
      <div class="turn-words">
        <button type="button" class="turn-name turn-open" onClick={go}>
          <span class="field-name">
            <b>{name}</b>
            <span class="quiet">{[cropWords(crop), grower].filter(Boolean).join(' · ')}</span>
          </span>
        </button>
        <AccountName name={of.known.accountName} />
        <EntryNotice entry={{ ...entry, why: turn.passes }} clock={false} />
        <p>{why}</p>
        {second && <p class="quiet">{second}</p>}
        {walker === of.known.person && <p class="quiet">{t('today.isMine')}</p>}
      </div>
    </li>
  );
}

/** Said on each line as soon as there is more than one account. */
export function AccountName({ name }: { name: string }) {
  if (besideTurns.value.length === 0) return null;
  return <p class="turn-account">{t('today.account', { account: name })}</p>;
}
