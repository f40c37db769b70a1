// The simulation: shipped client code on phones in memory against the shipped feed and merge.
//
//   node pwa/tests/sim/run.mjs --seeds 300               as CI runs it
//   node pwa/tests/sim/run.mjs --seeds 10000 --ops 1000000
//   node pwa/tests/sim/run.mjs --planted                 does it catch what it should?
//   node pwa/tests/sim/run.mjs --replay 17 [--only NAME] one seed, with a planted fault
//
// --from N starts at another seed; --door FILE takes a built simdoor instead of building one.
import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'vite';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..', '..');
const out = join(root, '.build', 'sim');

const { values } = parseArgs({
  options: {
    seeds: { type: 'string' },
    ops: { type: 'string', default: '0' },
    from: { type: 'string', default: '1' },
    planted: { type: 'boolean', default: false },
    only: { type: 'string' },
    replay: { type: 'string' },
    door: { type: 'string' },
  },
});

function number(name, fallback) {
  const text = values[name];
  if (text === undefined) return fallback;
  const value = Number(text);
  if (Number.isInteger(value) && value >= 0) return value;
  console.error(`--${name} is ${text}, accepted: a whole number from 0`);
  process.exit(2);
}

function buildDoor() {
  const file = join(out, 'simdoor.wasm');
  const env = { ...process.env, GOOS: 'js', GOARCH: 'wasm' };
  const args = ['build', '-trimpath', '-buildvcs=false', '-ldflags=-s -w', '-o', file];
  execFileSync('go', [...args, './internal/simdoor'], { cwd: root, env, stdio: 'inherit' });
  return file;
}

mkdirSync(out, { recursive: true });
const door = values.door ?? buildDoor();
const goRoot = execFileSync('go', ['env', 'GOROOT'], { encoding: 'utf8' }).trim();

await build({
  root: join(root, 'pwa'),
  configFile: false,
  logLevel: 'warn',
  publicDir: false,
  build: {
    ssr: join(here, 'main.ts'),
    outDir: out,
    emptyOutDir: false,
    target: 'node20',
    minify: false,
    rollupOptions: { output: { entryFileNames: 'main.mjs' } },
  },
  ssr: { noExternal: true },
});

const { main } = await import(pathToFileURL(join(out, 'main.mjs')).href);
const failures = await main({
  door,
  host: join(goRoot, 'lib', 'wasm', 'wasm_exec.js'),
  from: number('from', 1),
  seeds: number('seeds', values.planted ? 1000 : 300),
  ops: number('ops', 0),
  planted: values.planted ? 'all' : undefined,
  only: values.only,
  replay: values.replay === undefined ? undefined : number('replay', 0),
});
process.exit(failures > 0 ? 1 : 0);
