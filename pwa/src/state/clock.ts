// The time of day on the account's own clock, for re-entry times. It is this device's clock that
// says it, and every screen that leans on it names that clock.
import { computed, signal } from '@preact/signals';
import { dateIn } from './intl';
import { deviceDay, settings } from './records';
import { locale, showDate } from './words';
import type { Settings } from '../wire.gen';

const nowMS = signal(Date.now());

/** Read inside an effect, it makes the effect follow the clock. */
export const ticking = (): number => nowMS.value;

function partsIn(zone: string | undefined, ms: number): { [type: string]: string } {
  const form = {
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  } as const;
  const zoned = zone ? { ...form, timeZone: zone } : form;
  return dateIn('en-CA', zoned, ms);
}

/** "2027-06-14T09:30": now in the account's time zone; demo accounts have a day of their own. */
export const moment = computed(() => momentOf(settings.value));

export function momentOf(of: Settings | undefined): string {
  const { timeZone, today } = of ?? {};
  const p = partsIn(timeZone, nowMS.value);
  const day = today ?? `${p['year'] ?? deviceDay.value}-${p['month']}-${p['day']}`;
  return `${day}T${p['hour']}:${p['minute']}`;
}

/** "Fri 13 June 07:00" from 2027-06-13T07:00. */
export function momentWords(at: string): string {
  const [day = '', clock = ''] = at.split('T');
  return [showDate(day), locale() === 'fr-CA' ? clock.replace(':', '\u00a0h\u00a0') : clock].join(' ').trim();
}

/** Keeps the time while a screen that needs it is in view; gives what ends it. */
export function keepTime(): () => void {
  const everyMS = 15_000;
  const tick = () => {
    if (document.visibilityState === 'visible') nowMS.value = Date.now();
  };
  tick();
  const timer = setInterval(tick, everyMS);
  document.addEventListener('visibilitychange', tick);
  return () => {
    clearInterval(timer);
    document.removeEventListener('visibilitychange', tick);
  };
}
