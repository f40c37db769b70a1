// Times one case in WebAssembly under Node and natively, side by side, three times over, and prints
// the medians and their ratio. The whole request is timed on both sides, JSON in and out, in
// processor time: the clock on the wall would measure who else uses the machine.
//
//   node deploy/prove/wasm-bench.mjs [-l]
//
// With -l the WebAssembly is also built without inlining, to weigh bytes against time.
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { brotliCompressSync, constants } from 'node:zlib'
import { load } from './reactor.mjs'

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')
const file = join(root, 'testdata/evaluate/pea-all-plans-priced.json')
const rounds = 200
const repeats = 3

const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1]

const go = (args, env) => execFileSync('go', args, { cwd: root, env: { ...process.env, ...env } })

function build(folder, name, flags) {
  const out = join(folder, name)
  go(['build', ...flags, '-trimpath', '-ldflags=-s -w', '-buildmode=c-shared', '-o', out,
    './internal/wasm'], { GOOS: 'wasip1', GOARCH: 'wasm' })
  const raw = readFileSync(out)
  const params = {
    [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
    [constants.BROTLI_PARAM_SIZE_HINT]: raw.length,
  }
  const brotli = brotliCompressSync(raw, { params }).length
  console.log(`${name}: ${raw.length} bytes, ${brotli} brotli`)
  return out
}

function time(run, request) {
  const began = process.cpuUsage()
  for (let i = 0; i < rounds; i++) run(request)
  const { user, system } = process.cpuUsage(began)
  return (user + system) / 1000 / rounds
}

const folder = mkdtempSync(join(tmpdir(), 'speed-'))
try {
  const builds = { 'engine.wasm': [] }
  if (process.argv.includes('-l')) builds['engine without inlining'] = ['-gcflags=all=-l']
  const native = join(folder, 'speed')
  go(['build', '-o', native, './deploy/prove/speed'])
  const request = Buffer.from(`{"op":"evaluate","input":${readFileSync(file)}}`)
  const engines = {}
  for (const [name, flags] of Object.entries(builds)) {
    engines[name] = await load(build(folder, name, flags))
    time(engines[name], request) // the compiler of the browser's kind warms up
  }
  const found = { native: [], engine: [] }
  for (const name of Object.keys(engines)) found[name] = []
  for (let i = 0; i < repeats; i++) {
    const args = ['-rounds', `${rounds}`, file]
    const { engine, request: whole } = JSON.parse(execFileSync(native, args))
    found.native.push(whole)
    found.engine.push(engine)
    for (const [name, run] of Object.entries(engines)) found[name].push(time(run, request))
  }
  console.log(`engine alone, native: ${median(found.engine).toFixed(2)} ms`)
  console.log(`whole request, native: ${median(found.native).toFixed(2)} ms`)
  for (const name of Object.keys(engines)) {
    const ratios = found[name].map((ms, i) => ms / found.native[i])
    console.log(`whole request, ${name}: ${median(found[name]).toFixed(2)} ms, ` +
      `${median(ratios).toFixed(2)} times native`)
  }
} finally {
  rmSync(folder, { recursive: true })
}
