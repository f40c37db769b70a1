// What is looked at before a day without signal: each thing is in order, or has one way to mend it.
import { tally, open } from './session';
import { rows } from './records';
import { waitingVersion } from './update';

export type CheckName = 'storage' | 'space' | 'clock' | 'version' | 'fields' | 'age';

export interface Check {
  name: CheckName;
  good: boolean;
  /** A figure for its sentence: hours, minutes, fields. */
  n: number;
}

/** Photos are refused from this share of the space on (state/photo). */
const mostShare = 0.8;
/** A clock this far off shows wrong times; no record is harmed by it. */
const mostClockMin = 5;
/** What is older than a working day and its night should be fetched again before going out. */
const mostAgeHours = 16;

async function usedShare(): Promise<number> {
  const { usage = 0, quota = 0 } = (await navigator.storage?.estimate?.()) ?? {};
  return quota > 0 ? usage / quota : 0;
}

/** How far this device's clock was ahead of the server's when it last answered, in minutes. */
export function clockAheadMin(deviceTime: string, serverTime: string): number {
  const apart = Date.parse(deviceTime) - Date.parse(serverTime);
  return Number.isNaN(apart) ? 0 : Math.round(apart / 60_000);
}

export async function checks(nowMS: number): Promise<Check[]> {
  const state = await open.value?.store.state();
  const share = await usedShare();
  const held = (await navigator.storage?.persisted?.()) ?? false;
  const ahead = clockAheadMin(state?.lastAnswer ?? '', state?.serverTime ?? '');
  const hours = (nowMS - Date.parse(tally.value.lastAnswer)) / 3600_000;
  const fields = rows.value.length;
  return [
    { name: 'fields', good: fields > 0, n: fields },
    { name: 'age', good: hours < mostAgeHours, n: Math.round(hours) || 0 },
    { name: 'version', good: !waitingVersion.value, n: 0 },
    { name: 'clock', good: Math.abs(ahead) < mostClockMin, n: Math.abs(ahead) },
    { name: 'space', good: share < mostShare, n: Math.round(share * 100) },
    { name: 'storage', good: held, n: 0 },
  ];
}
