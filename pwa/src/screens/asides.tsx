// What the server keeps aside, by person and device: also what a device without access handed in.
// The owner takes it up as that person's work, or puts it away. Needs the network.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Aside } from '../wire.gen';
import { Refused } from '../net/api';
import { deviceWords } from '../state/people';
import { problemWords } from '../state/problem';
import { api, open, syncNow, withToken } from '../state/session';
import { showMoment, t, tn } from '../state/words';
import { describe } from './hand-in';

interface Group {
  device: string;
  title: string;
  shutOut: boolean;
  entries: Aside[];
}

function byDevice(list: readonly Aside[]): Group[] {
  const groups = new Map<string, Group>();
  for (const a of list) {
    const title = [a.personName, a.deviceName && deviceWords(a.deviceName)].filter(Boolean).join(' · ');
    const shutOut = a.shutOut === true;
    const group = groups.get(a.device) ?? { device: a.device, title, shutOut, entries: [] };
    group.entries.push(a);
    groups.set(a.device, group);
  }
  return [...groups.values()];
}

/** Bytes that cannot be read as an entry are set aside too. */
function describeAside(text: string): { what: string; when: string } {
  try {
    return describe(text);
  } catch {
    return { what: t('asides.unreadable'), when: '' };
  }
}

type Settle = (device: string, ns: number[], take: boolean) => Promise<void>;

export function Asides() {
  const list = useSignal<Aside[] | undefined>(undefined);
  const error = useSignal('');
  const farm = open.value?.owner.farm ?? '';
  const tried = async (work: () => Promise<void>) => {
    try {
      await work();
      error.value = '';
    } catch (failure) {
      const refused = failure instanceof Refused;
      error.value = refused ? problemWords(failure.problem) : t('asides.offline');
    }
  };
  const load = () =>
    tried(async () => {
      list.value = await withToken((access) => api.asides(farm, access));
    });
  const settle: Settle = async (device, ns, take) => {
    await tried(() => withToken((access) => api.settleAside(farm, access, { device, ns, take })));
    await load();
    void syncNow(true);
  };
  useEffect(() => void load(), [farm]);
  return (
    <section>
      <h2>{t('asides.title')}</h2>
      {error.value && <p role="alert">{error.value}</p>}
      {!list.value && !error.value && <p>{t('server.asking')}</p>}
      {list.value && <p>{t(list.value.length > 0 ? 'asides.what' : 'asides.none')}</p>}
      {byDevice(list.value ?? []).map((group) => (
        <OfDevice key={group.device} group={group} settle={settle} />
      ))}
    </section>
  );
}

function OfDevice({ group, settle }: { group: Group; settle: Settle }) {
  const { device, title, shutOut, entries } = group;
  return (
    <section class="answer">
      <h3>{title}</h3>
      {shutOut && <p>{t('asides.shutOut')}</p>}
      {entries.length > 1 && (
        <button type="button" onClick={() => settle(device, entries.map((a) => a.n), true)}>
          {tn('asides.takeAll', entries.length)}
        </button>
      )}
      <ul class="sides">
        {entries.map((a) => (
          <OneAside key={a.n} entry={a} settle={settle} />
        ))}
      </ul>
    </section>
  );
}

function OneAside({ entry, settle }: { entry: Aside; settle: Settle }) {
  const { device, n, text, problem, receivedAt } = entry;
  const { what, when } = describeAside(text);
  const came = showMoment(receivedAt, Date.now());
  return (
    <li>
      <p>
        <b>{what}</b>
      </p>
      <p>{t('asides.when', { n, when, came })}</p>
      <p>{t('look.why', { why: problemWords(problem) })}</p>
      <details class="reason">
        <summary>{t('look.asKept')}</summary>
        <pre>{text}</pre>
      </details>
      <p class="beside">
        <button type="button" onClick={() => settle(device, [n], true)}>
          {t('asides.take')}
        </button>
        <button type="button" onClick={() => settle(device, [n], false)}>
          {t('asides.putAway')}
        </button>
      </p>
    </li>
  );
}
