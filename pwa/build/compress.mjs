// Writes .br and .gz beside every text-like file, so that the server compresses nothing itself,
// and prints what a phone downloads before first use.
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';

const out = 'site/app';
const kinds = /\.(js|css|html|svg|json|wasm|webmanifest)$/;
const leastBytes = 512;

function* files(dir) {
  for (const name of readdirSync(dir)) {
    const path = join(dir, name);
    if (statSync(path).isDirectory()) yield* files(path);
    else yield path;
  }
}

const brotli = (raw) =>
  brotliCompressSync(raw, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
      [constants.BROTLI_PARAM_SIZE_HINT]: raw.length,
    },
  });

const sizes = new Map();
for (const path of files(out)) {
  if (!kinds.test(path)) continue;
  const raw = readFileSync(path);
  if (raw.length <= leastBytes) continue;
  const gz = gzipSync(raw, { level: 9 });
  const br = brotli(raw);
  writeFileSync(`${path}.gz`, gz);
  writeFileSync(`${path}.br`, br);
  sizes.set(path, { gz: gz.length, br: br.length });
}

// First use = what index.html names itself: its scripts and the modules they import at once.
const html = readFileSync(join(out, 'index.html'), 'utf8');
const first = [...html.matchAll(/(?:src|href)="\/(assets\/[^"]+\.js)"/g)].map((m) => m[1]);
const firstBytes = first.reduce((sum, name) => sum + (sizes.get(join(out, name))?.gz ?? 0), 0);
const wasm = sizes.get(join(out, 'engine.wasm'));
const kib = (bytes) => `${(bytes / 1024).toFixed(1)} KiB`;
console.log(`script to first use ${kib(firstBytes)} gzip (${first.length} files)`);
console.log(wasm ? `engine ${kib(wasm.br)} brotli` : 'engine.wasm is not there: built without it');
const mostBytes = 90 * 1024;
if (firstBytes > mostBytes) throw new Error(`script to first use is over ${kib(mostBytes)}`);
