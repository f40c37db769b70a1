// Runs the golden cases and the example inputs in the WebAssembly build and in the native build,
// and demands that every case holds and that both builds give the same bytes. Plain Node:
//
//   node deploy/prove/golden.mjs
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { load } from './reactor.mjs'

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')
const main = './internal/wasm/golden'

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
