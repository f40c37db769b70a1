// Asks the engine, which lives in a thread of its own and is loaded at the first question.
import type { Answer, DigPart, Order, Outlined, Problem, Reply, Request, Round, Stop } from '../wire.gen';
import { scriptURL } from '../trust';
import type { Ask, Told } from './message';
import workerURL from './worker.ts?worker&url';

/** One record as the engine takes it. */
export interface CaseRecord {
  id: string;
  kind: string;
  body: unknown;
}

/** The engine says that the case cannot be evaluated: something is missing or out of range. */
export class NoCase extends Error {
  constructor(readonly problem: Problem) {
    super(problem.message);
    this.name = 'NoCase';
  }
}

/** What the engine answered, with its own text: equal texts mean equal reports. */
export interface Evaluated extends Answer {
  text: string;
}

interface Pending {
  resolve: (reply: string) => void;
  reject: (error: Error) => void;
}

const pending = new Map<number, Pending>();
let worker: Worker | undefined;
let lastId = 0;

function thread(): Worker {
  if (worker) return worker;
  const made = new Worker(scriptURL(workerURL), { type: 'module' });
  made.onmessage = (event: MessageEvent<Told>) => {
    const told = event.data;
    const asked = pending.get(told.id);
    pending.delete(told.id);
    if ('reply' in told) asked?.resolve(told.reply);
    else asked?.reject(new Error(told.failure));
  };
  made.onerror = () => lose(made);
  worker = made;
  return made;
}

function lose(made: Worker): void {
  made.terminate();
  if (worker === made) worker = undefined;
  for (const asked of pending.values()) asked.reject(new Error('the engine thread was lost'));
  pending.clear();
}

/**
 * After the frame in hand: to start the thread and its engine takes a slow phone longer than the
 * whole screen that asks first. A page in the background draws no frame, hence the limit.
 */
const drawn = (): Promise<void> =>
  new Promise((done) => {
    const mostMS = 200;
    setTimeout(done, mostMS);
    globalThis.requestAnimationFrame?.(() => setTimeout(done));
  });

async function ask(request: string): Promise<string> {
  if (!worker) await drawn();
  const id = ++lastId;
  return new Promise((resolve, reject) => {
    pending.set(id, { resolve, reject });
    thread().postMessage({ id, request } satisfies Ask);
  });
}

/** Evaluates one field's crop year from records. Rejects with NoCase, or Error after a trap. */
export async function evaluateCase(
  records: readonly CaseRecord[],
  field: string,
  cropYear: number,
): Promise<Evaluated> {
  const text = await ask(JSON.stringify({ op: 'case', records, field, cropYear }));
  const reply = JSON.parse(text) as Reply;
  if (reply.error) throw new NoCase(reply.error);
  if (!reply.ok) throw new Error('the engine gave no answer');
  return { ...reply.ok, text };
}

/** Measures an outline and suggests spots. Rejects with NoCase where it is none. */
export async function judgeOutline(ask: Omit<Request, 'op'>): Promise<Outlined> {
  const reply = JSON.parse(await askFor({ op: 'outline', ...ask })) as Reply;
  if (reply.error) throw new NoCase(reply.error);
  if (!reply.outline) throw new Error('the engine gave no answer');
  return reply.outline;
}

/** What the engine says of one dig among the records: picked in its own thread, after every plant. */
export async function digPartOf(
  records: readonly CaseRecord[],
  field: string,
  cropYear: number,
  dig: string,
): Promise<DigPart> {
  const request = JSON.stringify({ op: 'dig', records, field, cropYear, dig });
  const reply = JSON.parse(await ask(request)) as Reply;
  if (reply.error) throw new NoCase(reply.error);
  if (!reply.dig) throw new Error('the engine gave no answer');
  return reply.dig;
}

/** What a day's walk needs of a field: worked out and picked in the engine's own thread. */
export async function stopOf(
  records: readonly CaseRecord[],
  field: string,
  cropYear: number,
): Promise<Stop> {
  const request = JSON.stringify({ op: 'stop', records, field, cropYear });
  const reply = JSON.parse(await ask(request)) as Reply;
  if (reply.error) throw new NoCase(reply.error);
  if (!reply.stop) throw new Error('the engine gave no answer');
  return reply.stop;
}

const askFor = (request: Request): Promise<string> => ask(JSON.stringify(request));

/** Puts fields in the order that pays, and says of each whether it may be entered. */
export async function orderOf(round: Round, records: readonly CaseRecord[]): Promise<Order> {
  const reply = JSON.parse(await ask(JSON.stringify({ op: 'order', round, records }))) as Reply;
  if (reply.error) throw new NoCase(reply.error);
  if (!reply.order) throw new Error('the engine gave no answer');
  return reply.order;
}
