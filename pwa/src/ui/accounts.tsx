// The other accounts that this device holds, each a tap away.
import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { accounts, openAccount } from '../state/accounts';
import { beside } from '../state/beside';
import { open } from '../state/session';
import { t, tn } from '../state/words';

/** Changing keeps what is unsent in each, and each goes on sending by itself. */
export function Accounts() {
  const { route } = useLocation();
  useEffect(() => void accounts.load(), [open.value?.known.farm, open.value?.known.person]);
  const here = open.value?.known;
  const others = accounts.list.value.filter(
    (k) => !k.signedOut && (k.farm !== here?.farm || k.person !== here.person),
  );
  const waiting = (farm: string, person: string): number =>
    beside.value.find((b) => b.known.farm === farm && b.known.person === person)?.waiting ?? 0;
  if (others.length === 0) return null;
  return (
    <section class="doors">
      <h3>{t('me.accounts')}</h3>
      {others.map((k) => (
        <button
          key={k.farm + k.person}
          type="button"
          onClick={() => void openAccount(k).then(() => route('/'))}
        >
          {t('me.open', { account: k.accountName, name: k.name })}
          {waiting(k.farm, k.person) > 0 && ` (${tn('state.toSend', waiting(k.farm, k.person))})`}
        </button>
      ))}
    </section>
  );
}
