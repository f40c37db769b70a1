import { defineConfig } from 'vite';

// The server's policy forbids inline scripts and data: modules, hence no inlined assets and no
// preload helper. Asset names carry a hash and may be cached for ever.
export default defineConfig({
  publicDir: 'public',
  build: {
    outDir: 'site/app',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  worker: { format: 'es' },
  server: { fs: { allow: ['..'] } },
});
