// The smallest host that the engine needs. The engine has no clock, no files and no chance; what
// it asks for here is its runtime's start, and every call about files is answered "no such file".

export interface Instance {
  run(request: string): string;
}

interface Exports {
  memory: WebAssembly.Memory;
  _initialize: () => void;
  alloc: (bytes: number) => number;
  run: () => number;
  out: () => number;
}

const exportsOf = (instance: WebAssembly.Instance): Exports =>
  instance.exports as unknown as Exports;

function system(memory: () => WebAssembly.Memory): Record<string, (...args: never[]) => number> {
  const view = () => new DataView(memory().buffer);
  const zeroes = (count: number, size: number) => {
    view().setUint32(count, 0, true);
    view().setUint32(size, 0, true);
    return 0;
  };
  return {
    sched_yield: () => 0,
    proc_exit: (code: number) => {
      throw new Error(`engine stopped with code ${code}`);
    },
    args_sizes_get: zeroes,
    args_get: () => 0,
    environ_sizes_get: zeroes,
    environ_get: () => 0,
    clock_time_get: (_id: number, _precision: bigint, out: number) => {
      view().setBigUint64(out, BigInt(Math.round(performance.now() * 1e6)), true);
      return 0;
    },
    random_get: (at: number, bytes: number) => {
      crypto.getRandomValues(new Uint8Array(memory().buffer as ArrayBuffer, at, bytes));
      return 0;
    },
    poll_oneoff: (_in: number, _out: number, count: number, done: number) => {
      view().setUint32(done, count, true);
      return 0;
    },
    fd_write: (_fd: number, list: number, count: number, done: number) => {
      // What a dying runtime prints; the trap that follows is what the caller acts on.
      let bytes = 0;
      for (let i = 0; i < count; i++) bytes += view().getUint32(list + 8 * i + 4, true);
      view().setUint32(done, bytes, true);
      return 0;
    },
  };
}

/** The WASI answer for a file descriptor that does not exist. */
const badDescriptor = 8;

/** The calls this module names: ours where we have one, else "no such file". */
function importsFor(module: WebAssembly.Module, calls: ReturnType<typeof system>) {
  const named: WebAssembly.ModuleImports = {};
  for (const { name } of WebAssembly.Module.imports(module)) {
    named[name] = calls[name] ?? (() => badDescriptor);
  }
  return { wasi_snapshot_preview1: named };
}

export async function start(source: Promise<Response>): Promise<Instance> {
  let memory: WebAssembly.Memory | undefined;
  const held = () => {
    if (!memory) throw new Error('engine memory is not there yet');
    return memory;
  };
  const module = await WebAssembly.compileStreaming(source);
  const instance = await WebAssembly.instantiate(module, importsFor(module, system(held)));
  const engine = exportsOf(instance);
  memory = engine.memory;
  engine._initialize();
  return { run: (request) => call(engine, request) };
}

function call(engine: Exports, request: string): string {
  const bytes = new TextEncoder().encode(request);
  const at = engine.alloc(bytes.length);
  // The buffer is read anew after each call: it detaches when the memory grows.
  new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
  const length = engine.run();
  return new TextDecoder().decode(new Uint8Array(engine.memory.buffer, engine.out(), length));
}
