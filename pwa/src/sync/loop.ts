// The one loop that talks to the server. Screens never wait for it: they read what is on the
// device, and this courier runs behind them.
import { Refused, Unreachable } from '../net/api';
import { waitMS } from './backoff';
import { round, type Ports } from './round';

export type Phase =
  | { at: 'idle' }
  | { at: 'sending'; sending: number; waiting: number }
  | { at: 'offline' }
  | { at: 'signIn' }
  /** pauseMS: the server asked for this pause, since this device sends fast. */
  | { at: 'busy'; untilMS: number; pauseMS?: number }
  | { at: 'refused'; message: string };

/** One at a time over all tabs of this account. */
export type Lock = (work: () => Promise<void>) => Promise<void>;

export interface LoopPorts {
  ports: Omit<Ports, 'progress'>;
  lock: Lock;
  /** Says that a token is there, fetching one if it must; false = a person has to sign in. */
  ready: () => Promise<boolean>;
  /** Of this run of the program only; it never jumps, as the time of day does. */
  clockMS: () => number;
  random: () => number;
  later: (ms: number, work: () => void) => void;
  tell: (phase: Phase) => void;
  changed: () => Promise<void>;
  deviceChanged: (device: string) => Promise<void>;
}

const keepSentMS = 30 * 24 * 3600_000;
const mostRounds = 200;

export class Loop {
  private running: Promise<void> | undefined;
  private again = false;
  private failures = 0;
  private notBeforeMS = 0;
  private stopped = false;

  constructor(private readonly p: LoopPorts) {}

  stop(): void {
    this.stopped = true;
  }

  /** One that was stopped says no more: what it would say is of an account that is not open now. */
  private tell(phase: Phase): void {
    if (!this.stopped) this.p.tell(phase);
  }

  /** Runs now, or once more after the run in progress. A person's own tap does not wait. */
  run(byHand = false): Promise<void> {
    if (this.stopped) return Promise.resolve();
    if (!byHand && this.p.clockMS() < this.notBeforeMS) return Promise.resolve();
    if (this.running) {
      this.again = true;
      return this.running;
    }
    this.running = this.p
      .lock(() => this.rounds())
      .finally(() => {
        this.running = undefined;
        if (this.again) {
          this.again = false;
          void this.run();
        }
      });
    return this.running;
  }

  private async rounds(): Promise<void> {
    try {
      if (!(await this.p.ready())) return this.tell({ at: 'signIn' });
      await this.untilDone();
      this.failures = 0;
      this.notBeforeMS = 0;
      await this.p.ports.store.forget(keepSentMS);
    } catch (error) {
      this.failed(error);
    } finally {
      await this.p.changed();
    }
  }

  private async untilDone(): Promise<void> {
    const progress = (sending: number, waiting: number) =>
      this.tell(waiting > 0 ? { at: 'sending', sending, waiting } : { at: 'idle' });
    for (let i = 0; i < mostRounds && !this.stopped; i++) {
      const { more, stuck, newDevice } = await round({ ...this.p.ports, progress });
      if (newDevice) await this.p.deviceChanged(newDevice);
      if (!more) return this.tell(stuck ? refusal(stuck) : { at: 'idle' });
      await this.p.changed();
    }
  }

  private failed(error: unknown): void {
    if (this.stopped) return;
    const after = error instanceof Refused ? error.retryAfterMS : 0;
    // A pause that the server asked for is no failure: a long backlog meets many of them.
    if (isPause(error)) this.failures = 0;
    else this.failures++;
    const wait = waitMS(this.failures, after, this.p.random);
    this.notBeforeMS = this.p.clockMS() + wait;
    this.p.later(wait, () => void this.run());
    this.tell(phaseOf(error, this.notBeforeMS));
  }
}

const refusal = (e: Refused): Phase => ({ at: 'refused', message: e.problem.message });

const tooFast = 429;

const isPause = (e: unknown): boolean =>
  e instanceof Refused && e.status === tooFast && e.retryAfterMS > 0;

function phaseOf(error: unknown, untilMS: number): Phase {
  if (error instanceof Unreachable) return { at: 'offline' };
  if (!(error instanceof Refused)) return { at: 'refused', message: String(error) };
  if (error.status === 401) return { at: 'signIn' };
  if (isPause(error)) return { at: 'busy', untilMS, pauseMS: error.retryAfterMS };
  const transient = [408, 425, 429].includes(error.status) || error.status >= 500;
  return transient ? { at: 'busy', untilMS } : refusal(error);
}
