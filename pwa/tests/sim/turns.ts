// The event loop in our hands: the database in memory asks for its turns through setImmediate, and
// here each turn is given out one by one. Nothing in a run waits for real time.
const real = globalThis.setImmediate;
const waiting: (() => void)[] = [];

globalThis.setImmediate = ((work: () => void) => void waiting.push(work)) as never;

// Packing a request would wait for another thread.
Reflect.deleteProperty(globalThis, 'CompressionStream');

// So would reading a blob.
class Bytes {
  constructor(private readonly parts: Uint8Array[]) {}
  text = (): Promise<string> => Promise.resolve(Buffer.concat(this.parts).toString());
}
Object.assign(globalThis, { Blob: Bytes });

/** Lets all microtasks run out. */
const breathe = (): Promise<void> => new Promise((done) => void real(() => done()));

/** Gives out at most so many turns. False: nothing is left but what the network must bring. */
export async function turns(most = Number.POSITIVE_INFINITY): Promise<boolean> {
  for (let i = 0; i < most; i++) {
    await breathe();
    const work = waiting.shift();
    if (!work) return false;
    work();
  }
  await breathe();
  return true;
}

/** Gives out turns until a promise is settled; undefined when it hangs on a phone that died. */
export async function drive<T>(promise: Promise<T>): Promise<T | undefined> {
  const box: { value?: T; error?: unknown; done: boolean } = { done: false };
  promise.then(
    (value) => Object.assign(box, { value, done: true }),
    (error: unknown) => Object.assign(box, { error, done: true }),
  );
  for (let more = true; !box.done && more; ) more = await turns(1);
  if (box.error !== undefined) throw box.error;
  return box.value;
}

export const never = <T>(): Promise<T> => new Promise<T>(() => undefined);
