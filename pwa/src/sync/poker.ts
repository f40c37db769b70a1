// Listens for the server's nudges while the program is on screen. It only ever shortens the wait
// for the next round: where no stream holds, the poll goes on as before.
import { waitMS } from './backoff';
import type { Lock } from './loop';

export interface PokerPorts {
  /** Holds one stream open until it ends, telling each head; throws where it is refused. */
  listen: (heard: (head: number) => void, signal: AbortSignal) => Promise<void>;
  /** One stream a device, over all its tabs. */
  lock: Lock;
  heard: (head: number) => void;
  wait: (ms: number, signal: AbortSignal) => Promise<void>;
  random: () => number;
}

export class Poker {
  private stopper: AbortController | undefined;

  constructor(private readonly p: PokerPorts) {}

  start(): void {
    if (this.stopper) return;
    const stopper = new AbortController();
    this.stopper = stopper;
    void this.p.lock(() => this.hold(stopper.signal));
  }

  /** Ends the stream, and with it the claim on it: another tab may take over. */
  stop(): void {
    this.stopper?.abort();
    this.stopper = undefined;
  }

  private async hold(signal: AbortSignal): Promise<void> {
    for (let failures = 1; !signal.aborted; failures++) {
      try {
        await this.p.listen((head) => {
          failures = 0;
          this.p.heard(head);
        }, signal);
      } catch {
        // Refused, cut off or out of signal: all the same here, since the poll goes on.
      }
      if (!signal.aborted) await this.p.wait(waitMS(failures, 0, this.p.random), signal);
    }
  }
}
