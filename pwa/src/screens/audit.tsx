// Who did what, and when: for the owner. The lines can only be added to.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { AuditLine } from '../wire.gen';
import * as people from '../state/people';
import { hasKey, showMoment, t, type Key } from '../state/words';
import { Frame } from '../ui/frame';

const pageSize = 200; // as the server gives them

/** A deed in words; one that this program does not know yet stands as it came. */
function deed(action: string): string {
  const key = `did.${action}`;
  return hasKey(key) ? t(key as Key) : action;
}

/** "Who (device): what: whom", without a device or person that is said already. */
function lineWords(l: AuditLine): string {
  const person = l.who || t('audit.server');
  const who = l.deviceName ? `${person} (${people.deviceWords(l.deviceName)})` : person;
  const said = ['', l.who, l.deviceName].includes(l.subjectName ?? '');
  const whom = people.deviceWords(l.subjectName ?? '');
  const what = said ? deed(l.action) : t('audit.line', { who: deed(l.action), what: whom });
  return t('audit.line', { who, what });
}

export function Audit() {
  const list = useSignal<AuditLine[]>([]);
  const asked = useSignal(false);
  const more = useSignal(false);
  const error = useSignal('');
  const load = async () => {
    const last = list.value.at(-1)?.id ?? 0;
    try {
      const { lines } = await people.ask<{ lines: AuditLine[] }>(`audit?before=${last}`);
      list.value = [...list.value, ...lines];
      more.value = lines.length === pageSize;
      error.value = '';
    } catch (failure) {
      error.value = people.refusalWords(failure);
    }
    asked.value = true;
  };
  useEffect(() => void load(), []);
  const file = async (format: string) => {
    error.value = await people.keepFile(`audit?format=${format}`, `hilum-audit.${format}`);
  };
  return (
    <Frame wide title={t('audit.title')} back="/people" backWords={t('nav.people')}>
      {error.value && (
        <p class="error" role="alert">
          {error.value}
        </p>
      )}
      {!asked.value && <p>{t('server.asking')}</p>}
      <div class="beside">
        <button type="button" onClick={() => void file('csv')}>
          {t('audit.csv')}
        </button>
        <button type="button" onClick={() => void file('jsonl')}>
          {t('audit.jsonl')}
        </button>
      </div>
      <ul class="lines plain">
        {list.value.map((l) => (
          <li key={l.id}>
            <b>{showMoment(l.at, Date.now())}</b> {lineWords(l)}
          </li>
        ))}
      </ul>
      {more.value && (
        <button type="button" onClick={() => void load()}>
          {t('audit.more')}
        </button>
      )}
    </Frame>
  );
}
