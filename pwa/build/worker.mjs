// Builds the service worker into one plain script and writes the list of files it keeps.
// Runs after the main build, since the list names that build's hashed files.
import { build } from 'vite';
import { injectManifest } from 'workbox-build';

const out = 'site/app';

await build({
  configFile: false,
  publicDir: false,
  logLevel: 'warn',
  define: { 'process.env.NODE_ENV': '"production"' },
  build: {
    outDir: out,
    emptyOutDir: false,
    target: 'es2022',
    lib: { entry: 'src/sw.ts', formats: ['iife'], name: 'worker', fileName: () => 'sw.js' },
  },
});

const { count, size, warnings } = await injectManifest({
  swSrc: `${out}/sw.js`,
  swDest: `${out}/sw.js`,
  globDirectory: out,
  globPatterns: ['**/*.{js,css,html,svg,png,woff2,wasm,webmanifest}'],
  globIgnores: ['sw.js'],
  dontCacheBustURLsMatching: /^assets\//,
  maximumFileSizeToCacheInBytes: 8_000_000,
});
if (warnings.length > 0) throw new Error(warnings.join('\n'));
console.log(`service worker keeps ${count} files, ${Math.round(size / 1024)} KiB`);
