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

export function Audit() {
  const list = useSignal<AuditLine[]>([]);
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
            <b>{showMoment(l.at, Date.now())}</b> {l.who || t('audit.server')}
            {l.deviceName && ` (${l.deviceName})`}: {deed(l.action)}
            {l.subjectName && l.subjectName !== l.who && `: ${l.subjectName}`}
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
