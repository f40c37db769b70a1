// Virtual time and the network: what is under way, when it arrives, and what befalls it.
import type { Chance } from './chance';

interface Due {
  at: number;
  no: number;
  work: () => void;
}

export type Fate =
  | 'fine'
  | 'requestLost'
  | 'replyLost'
  | 'late'
  | 'twice'
  | 'cut'
  | 'busy'
  | 'tokenOver'
  | 'crash'
  | 'slow';

export const fates: readonly Fate[] = [
  'fine',
  'slow',
  'requestLost',
  'replyLost',
  'late',
  'twice',
  'cut',
  'busy',
  'tokenOver',
  'crash',
];

export const minute = 60_000;
export const day = 24 * 60 * minute;

const weights: readonly [Fate, number][] = [
  ['fine', 30],
  ['slow', 12],
  ['requestLost', 8],
  ['replyLost', 10],
  ['late', 6],
  ['twice', 8],
  ['cut', 6],
  ['busy', 6],
  ['tokenOver', 5],
  ['crash', 9],
];

/** In minutes, one way. */
const slowest = 240;

/** After that long a phone gives up on an answer. */
export const patienceMS = 60_000;

/** No answer that somebody waits for takes longer: an hour over the slowest way there and back. */
export const longestMS = (2 * slowest + 60) * minute;

export class Sky {
  now = Date.UTC(2027, 5, 1, 6);
  calm = false;
  /** No signal anywhere. */
  dark = false;
  private readonly due: Due[] = [];
  private no = 0;

  constructor(private readonly chance: Chance) {}

  later(ms: number, work: () => void): void {
    this.due.push({ at: this.now + Math.max(0, ms), no: this.no++, work });
  }

  fate(): Fate {
    if (this.dark) return 'requestLost';
    if (this.calm) return 'fine';
    let at = this.chance.below(weights.reduce((sum, [, weight]) => sum + weight, 0));
    for (const [fate, weight] of weights) {
      at -= weight;
      if (at < 0) return fate;
    }
    return 'fine';
  }

  /** How long a message is under way. */
  delay(fate: Fate): number {
    if (fate === 'slow') return minute * (1 + this.chance.below(slowest));
    if (fate === 'late') return day * (1 + this.chance.below(9));
    return 50 + this.chance.below(2000);
  }

  /** The next thing due until a moment, taken off the list. */
  next(until: number): Due | undefined {
    let best = -1;
    this.due.forEach((d, i) => {
      const other = this.due[best];
      if (d.at > until) return;
      if (!other || d.at < other.at || (d.at === other.at && d.no < other.no)) best = i;
    });
    const found = best < 0 ? undefined : this.due.splice(best, 1)[0];
    if (found) this.now = Math.max(this.now, found.at);
    return found;
  }
}
