// Practice mode: the same screens over a database of its own with one made-up field. No courier runs
// for it, its device id is its own, and nothing of it can reach a real account or a server.
import { localDay } from '../day';
import { deleteDB } from 'idb';
import { computed, effect } from '@preact/signals';
import { FarmStore } from '../db/farm';
import { farmDatabase, type Known, type Owner } from '../db/schema';
import { newId } from '../id';
import { practiceField, practiceRows } from './practice-field';
import { leaveOpen, open, openAlone, openLast } from './session';
import { t } from './words';

export const practiceFarm = 'practice';
const person = 'here';
const flag = 'hilum.practice';

export const practising = computed(() => open.value?.alone === true);

/** Of this tab only: practice in one tab leaves the real work in another alone. */
export function practiceChosen(): boolean {
  try {
    return sessionStorage.getItem(flag) === '1';
  } catch {
    return false; // storage may be blocked: then a reload ends the practice
  }
}

function choose(on: boolean): void {
  try {
    if (on) sessionStorage.setItem(flag, '1');
    else sessionStorage.removeItem(flag);
  } catch {
    // Blocked: it holds until the page is loaded again.
  }
}

// Whoever signs in has left the practice.
effect(() => {
  if (open.value && !practising.value) choose(false);
});

/** Opens the practice data, making it first where there is none. */
export async function openPractice(): Promise<void> {
  const store = new FarmStore(practiceFarm, person);
  const name = t('practice.person');
  const owner: Owner = {
    farm: practiceFarm,
    accountName: t('practice.title'),
    person: { id: person, name, role: 'scout' },
  };
  const { device } = await store.state();
  const own = device || newId(Date.now());
  await store.settle(owner, own);
  const year = Number(localDay(new Date()).slice(0, 4));
  const rows = practiceRows(year);
  await store.start({ epoch: practiceFarm, seq: rows.length, rows });
  const known: Known = {
    farm: practiceFarm,
    person,
    device: own,
    login: '',
    name,
    role: 'scout',
    accountName: owner.accountName,
    lastUsed: '',
    signedOut: false,
  };
  await openAlone({ store, owner, known });
}

/** Begins anew with an untouched field and gives the address of the first dig. */
export async function startPractice(): Promise<string> {
  await leaveOpen();
  await deleteDB(farmDatabase(practiceFarm, person));
  choose(true);
  await openPractice();
  return `/field/${practiceField}/dig`;
}

/** Back to the real work, or to the door where nobody has signed in. */
export async function endPractice(): Promise<void> {
  choose(false);
  await leaveOpen();
  await openLast();
}
