// Chance from one seed: a small generator (a 32-bit state stepped by a Weyl sequence and mixed), so
// that every run can be run again.
export class Chance {
  private state: number;

  constructor(seed: number) {
    this.state = seed >>> 0;
    this.next();
  }

  /** 0 to 2^32 - 1. */
  next(): number {
    this.state = (this.state + 0x9e3779b9) >>> 0;
    let z = this.state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) >>> 0;
  }

  /** A whole number from 0 to most - 1. */
  below(most: number): number {
    return this.next() % most;
  }

  /** True once in n. */
  oneIn(n: number): boolean {
    return this.below(n) === 0;
  }

  part(): number {
    return this.next() / 2 ** 32;
  }

  pick<T>(list: readonly T[]): T {
    const found = list[this.below(list.length)];
    if (found === undefined) throw new Error('nothing to pick from');
    return found;
  }

  uuid(): string {
    const hex = [0, 1, 2, 3].map(() => this.next().toString(16).padStart(8, '0')).join('');
    const [a, b, c, d] = [hex.slice(0, 8), hex.slice(8, 12), hex.slice(13, 16), hex.slice(17, 20)];
    return `${a}-${b}-7${c}-a${d}-${hex.slice(20)}`;
  }
}
