// Many seeds: counts, replays, and the planted faults. Called by run.mjs.
import './turns';
import 'fake-indexeddb/auto';
import { openDoor, type Door } from './door';
import { plants } from './planted';
import { fates } from './sky';
import { runSeed as runOne, type Options, type Outcome } from './run-one';

/** Each must be seen in a run of some length, or the run proves nothing about it. */
const sometimes = fates.map((fate) => `net.${fate}`);
sometimes.push('crash.before', 'crash.after', 'die.before', 'die.inside', 'die.after', 'die.now');
sometimes.push('update', 'otherTab', 'handleCut', 'keep.QuotaExceededError', 'clockJump', 'copy');
sometimes.push('restore', 'clone', 'newDevice', 'revoke', 'signIn', 'draft.closed');
sometimes.push('handIn.200', 'takeUp.applied');
sometimes.push('photo', 'photo.204', 'photo.0');
sometimes.push('late', 'load.fine', 'load.cut', 'load.goesOn');
sometimes.push('big', 'floor.raised', 'tunnel');
sometimes.push('answer.stale', 'judged.applied', 'judged.merged');
// A gap (answer.expect) is rare since no push under an older epoch is taken; unit tests hold it.
sometimes.push('answer.reset', 'answer.more', 'outcome.applied', 'repeat');
sometimes.push('outcome.merged', 'outcome.conflict', 'outcome.quarantined', 'outcome.cloned');

interface Asked {
  door: string;
  host: string;
  from: number;
  seeds: number;
  ops: number;
  planted: string | undefined;
  only: string | undefined;
  replay: number | undefined;
}

const replayOf = (seed: number): string => `node pwa/tests/sim/run.mjs --replay ${seed}`;

/** A phone that dies leaves broken transactions behind that nobody waits for any more. */
const leftBehind = new Set(['AbortError', 'InvalidStateError', 'TransactionInactiveError']);
process.on('unhandledRejection', (error) => {
  if (!(error instanceof Error) || !leftBehind.has(error.name)) throw error;
});

/** The seed under way, to be named if the event loop runs dry under it. */
let under = 0;
process.once('beforeExit', () => {
  console.log(`seed ${under} hangs: the run waits for what nothing will bring`);
  console.log(`  replay: ${replayOf(under)}`);
  process.exitCode = 1;
});

function runSeed(
  door: Door,
  seed: number,
  counts: Record<string, number>,
  options?: Options,
): Promise<Outcome> {
  under = seed;
  return runOne(door, seed, counts, options);
}

/** Returns the number of failures. */
export async function main(asked: Asked): Promise<number> {
  const door = await openDoor(asked.door, asked.host);
  if (asked.planted !== undefined) return plantedRun(door, asked);
  if (asked.replay !== undefined) return replay(door, asked);
  return manySeeds(door, asked);
}

const tell = (o: Outcome): void =>
  console.log(`seed ${o.seed}: ${o.failure?.message ?? 'fine'} (${o.phones} phones, ` +
    `${o.operations} operations, ${o.rounds} rounds, trace ${o.trace})`);

async function replay(door: Door, asked: Asked): Promise<number> {
  const options: Options = asked.only === undefined ? {} : { planted: asked.only };
  const outcome = await runSeed(door, asked.replay ?? 0, {}, options);
  tell(outcome);
  return outcome.failure ? 1 : 0;
}

async function manySeeds(door: Door, asked: Asked): Promise<number> {
  const counts: Record<string, number> = {};
  const began = Date.now();
  const sum = { operations: 0, failures: 0, mostRounds: 0, mostPhones: 0, twice: 0, skewed: 0 };
  let last = asked.from;
  const enough = (seed: number) => seed >= asked.from + asked.seeds && sum.operations >= asked.ops;
  for (let seed = asked.from; !enough(seed); seed++) {
    const outcome = await runSeed(door, seed, counts);
    last = seed;
    sum.operations += outcome.operations;
    sum.mostRounds = Math.max(sum.mostRounds, outcome.rounds);
    sum.mostPhones = Math.max(sum.mostPhones, outcome.phones);
    const again = await repeat(door, seed - asked.from, outcome, sum);
    for (const failed of [outcome.failure, again]) {
      if (!failed) continue;
      sum.failures++;
      console.log(`seed ${seed}: ${failed.message}\n  replay: ${replayOf(seed)}`);
    }
    if ((seed - asked.from + 1) % 100 === 0) progress(seed - asked.from + 1, sum.operations, began);
  }
  const missing = sometimes.filter((what) => !counts[what]);
  report(counts, missing, { ...sum, seeds: last - asked.from + 1 }, began);
  return sum.failures + missing.length;
}

/** The first 20 seeds run twice, and each tenth runs with other clocks. */
async function repeat(
  door: Door,
  at: number,
  first: Outcome,
  sum: { twice: number; skewed: number },
): Promise<Error | undefined> {
  if (first.failure) return undefined;
  if (at < 20) {
    sum.twice++;
    const again = await runSeed(door, first.seed, {});
    if (again.trace !== first.trace) return new Error('determinism: two runs differ');
  }
  if (at % 10 === 0) {
    sum.skewed++;
    const other = await runSeed(door, first.seed, {}, { skew: 2 });
    const difference = other.failure?.message ?? 'the records differ';
    if (other.bodies !== first.bodies) return new Error(`clocks decide nothing: ${difference}`);
  }
  return undefined;
}

function progress(done: number, operations: number, began: number): void {
  const seconds = Math.round((Date.now() - began) / 1000);
  console.log(`${done} seeds, ${operations} operations, ${seconds} s`);
}

function report(
  counts: Record<string, number>,
  missing: string[],
  sum: Record<string, number>,
  began: number,
): void {
  for (const what of Object.keys(counts).sort()) console.log(`  ${what} ${counts[what]}`);
  for (const what of missing) console.log(`never seen: ${what}`);
  console.log(JSON.stringify({ ...sum, seconds: Math.round((Date.now() - began) / 1000) }));
}

async function plantedRun(door: Door, asked: Asked): Promise<number> {
  let missed = 0;
  const list = asked.only === undefined ? plants : [asked.only];
  for (const planted of list) {
    const caught = await firstCatch(door, planted, asked.seeds);
    if (!caught) missed++;
    console.log(caught ? `${planted}: seed ${caught.seed}, ${caught.failure?.message.slice(0, 150)}`
      : `${planted}: NOT CAUGHT within ${asked.seeds} seeds`);
  }
  console.log(`${list.length - missed} of ${list.length} planted faults caught`);
  return missed;
}

type Caught = Promise<Outcome | undefined>;

async function firstCatch(door: Door, planted: string, seeds: number): Caught {
  for (let seed = 1; seed <= seeds; seed++) {
    const outcome = await runSeed(door, seed, {}, { planted });
    if (outcome.failure) return outcome;
  }
  return undefined;
}
