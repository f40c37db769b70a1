// Where this device is, as far as it is told. Nothing waits for it, and the receiver rests as soon
// as nobody looks: it is what empties a battery.
import { effect, signal } from '@preact/signals';
import { distance } from '../outline/plane';
import { positionOf, type Fix } from '../outline/track';

export type Receiver = 'off' | 'asking' | 'on' | 'resting' | 'refused' | 'none';

export const receiver = signal<Receiver>('geolocation' in navigator ? 'off' : 'none');
export const fix = signal<Fix | undefined>(undefined);

/** After this long without a tap or a step the receiver rests, unless a walk is recorded. */
const idleMS = 5 * 60_000;
/** Less than this is not a step. */
const stepM = 20;

let watching: number | undefined;
let wanted = false;
let recording = false;
let visit = 0;
let stirredMS = 0;
let stirredAt: Fix | undefined;

function begin(): void {
  if (watching !== undefined || document.hidden || !('geolocation' in navigator)) return;
  if (receiver.value !== 'on') receiver.value = 'asking';
  stirredMS = Date.now();
  watching = navigator.geolocation.watchPosition(heard, failed, {
    enableHighAccuracy: true,
    maximumAge: 5_000,
    timeout: 60_000,
  });
}

function halt(then: Receiver): void {
  if (watching !== undefined) navigator.geolocation.clearWatch(watching);
  watching = undefined;
  receiver.value = then;
}

function heard(at: GeolocationPosition): void {
  const { longitude, latitude, accuracy } = at.coords;
  const next: Fix = { longitude, latitude, accuracyM: accuracy, atMS: at.timestamp };
  receiver.value = 'on';
  fix.value = next;
  if (!stirredAt || distance(positionOf(stirredAt), positionOf(next)) > stepM) {
    stirredAt = next;
    stirredMS = Date.now();
  }
  if (!recording && Date.now() - stirredMS > idleMS) halt('resting');
}

function failed(error: GeolocationPositionError): void {
  // No position yet, or none now, is no fault: it goes on listening.
  if (error.code === error.PERMISSION_DENIED) halt('refused');
}

/** Listens until stopListening; the browser asks the person for leave if need be. */
export function listen(): void {
  wanted = true;
  begin();
}

/** A screen that listened calls this when it goes. */
export function stopListening(): void {
  visit++;
  wanted = false;
  recording = false;
  if (receiver.value !== 'none' && receiver.value !== 'refused') halt('off');
  fix.value = undefined;
}

/** Listens only where leave was given before: no screen asks uninvited. */
export async function listenIfAllowed(): Promise<void> {
  const mine = ++visit;
  const asked = navigator.permissions?.query({ name: 'geolocation' });
  const state = await asked?.then((s) => s.state).catch(() => 'prompt');
  if (mine !== visit) return; // the screen has gone meanwhile
  if (state === 'granted') listen();
  if (state === 'denied') receiver.value = 'refused';
}

/** While an outline is walked, standing still does not end it, and the screen stays lit. */
export function record(on: boolean): void {
  recording = on;
  void (on ? stayLit() : letDim());
}

let lit: WakeLockSentinel | undefined;

async function stayLit(): Promise<void> {
  lit = await navigator.wakeLock?.request('screen').catch(() => undefined);
}

async function letDim(): Promise<void> {
  await lit?.release().catch(() => undefined);
  lit = undefined;
}

function stir(): void {
  stirredMS = Date.now();
  if (wanted && receiver.value === 'resting') begin();
}

document.addEventListener('pointerdown', stir, { passive: true });
document.addEventListener('visibilitychange', () => {
  if (document.hidden) {
    if (watching !== undefined) halt('resting');
  } else if (wanted) {
    begin();
    if (recording) void stayLit();
  }
});

/** Calls back with each new position until ended. */
export const eachFix = (call: (at: Fix) => void): (() => void) =>
  effect(() => {
    const at = fix.value;
    if (at) call(at);
  });
