// Runs the golden cases and the example inputs in the WebAssembly build and in the native build,
// and demands that every case holds and that both builds give the same bytes. Plain Node:
//
//   node deploy/prove/golden.mjs
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')
const main = './internal/wasm/golden'

/** The smallest WASI host that a Go reactor needs. */
async function load(path) {
  let memory
  const view = () => new DataView(memory.buffer)
  const nothing = (count, size) => {
    view().setUint32(count, 0, true)
    view().setUint32(size, 0, true)
    return 0
  }
  const wasi = {
    sched_yield: () => 0,
    proc_exit: (code) => { throw new Error(`the engine exited with ${code}`) },
    args_sizes_get: nothing, args_get: () => 0,
    environ_sizes_get: nothing, environ_get: () => 0,
    clock_time_get: (_clock, _precision, at) => 
      (view().setBigUint64(at, process.hrtime.bigint(), true), 0),
    random_get: (at, length) => (new Uint8Array(memory.buffer, at, length).fill(7), 0),
    poll_oneoff: (_in, _out, count, at) => (view().setUint32(at, count, true), 0),
    fd_write: (_fd, vectors, count, at) => {
      let total = 0
      for (let i = 0; i < count; i++) {
        const [start, length] = [0, 4].map((o) => view().getUint32(vectors + 8 * i + o, true))
        process.stderr.write(new Uint8Array(memory.buffer.slice(start, start + length)))
        total += length
      }
      view().setUint32(at, total, true)
      return 0
    },
  }
  // There are no files: everything else that the os package links answers "bad descriptor".
  for (const name of ['fd_close', 'fd_read', 'fd_seek', 'path_open', 'fd_fdstat_get',
    'fd_fdstat_set_flags', 'fd_prestat_get', 'fd_prestat_dir_name']) wasi[name] = () => 8
  const { instance } = await WebAssembly.instantiate(readFileSync(path),
    { wasi_snapshot_preview1: wasi })
  const engine = instance.exports
  memory = engine.memory
  engine._initialize()
  return (request) => {
    const at = engine.alloc(request.length)
    new Uint8Array(memory.buffer, at, request.length).set(request)
    const length = engine.run()
    return Buffer.from(memory.buffer.slice(engine.out(), engine.out() + length)).toString()
  }
}

function jsonFiles(folder) {
  return readdirSync(join(root, folder), { recursive: true })
    .filter((name) => name.endsWith('.json')).sort().map((name) => join(root, folder, name))
}

const cases = jsonFiles('testdata/agro')
const inputs = jsonFiles('testdata/evaluate')
const folder = mkdtempSync(join(tmpdir(), 'golden-'))
let faults = 0
const kinds = {}
try {
  const go = (args, env) => execFileSync('go', args,
    { cwd: root, env: { ...process.env, ...env }, maxBuffer: 1 << 28 }).toString()
  const wasm = join(folder, 'golden.wasm')
  go(['build', '-buildmode=c-shared', '-o', wasm, main], { GOOS: 'wasip1', GOARCH: 'wasm' })
  const native = go(['run', main, ...cases, ...inputs]).trimEnd().split('\n')
  const run = await load(wasm)
  for (const [i, file] of [...cases, ...inputs].entries()) {
    const reply = run(readFileSync(file))
    const result = JSON.parse(reply)
    const bad = i < cases.length ? result.faults : result.error ? [result.error.message] : []
    if (i < cases.length) kinds[result.kind] = (kinds[result.kind] ?? 0) + 1
    if (reply !== native[i]) bad.push('the native build gives other bytes')
    faults += bad.length
    for (const fault of bad) console.error(`${file}: ${fault}`)
  }
} finally {
  rmSync(folder, { recursive: true })
}
console.log(`${cases.length} golden cases (${JSON.stringify(kinds)}) and ${inputs.length} inputs ` +
  `in WebAssembly and natively: ${faults} faults`)
process.exit(faults === 0 ? 0 : 1)
