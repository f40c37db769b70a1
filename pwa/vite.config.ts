import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';

const main = fileURLToPath(new URL('src/main.tsx', import.meta.url));

interface Modules {
  getModuleInfo(id: string): { importedIds: readonly string[] } | null;
}

/** All that a module imports at once, itself among it. */
function closure(id: string, modules: Modules, found = new Set<string>()): Set<string> {
  if (found.has(id) || id.includes('preload-helper')) return found; // the first script has that
  found.add(id);
  for (const next of modules.getModuleInfo(id)?.importedIds ?? []) closure(next, modules, found);
  return found;
}

/** The program in one file: each file more is a wait at every start. */
let together: Set<string> | undefined;
const nameOf = (id: string, modules: Modules): string | null =>
  (together ??= closure(main, modules)).has(id) ? 'program' : null;

const oneProgram = { includeDependenciesRecursively: false, groups: [{ name: nameOf, debugName: 'program' }] };

/** Named in the page, it is fetched beside the style and not after the first script. */
const programAhead: Plugin = {
  name: 'program-ahead',
  transformIndexHtml: {
    order: 'post',
    handler: (page, { bundle }) => ({
      // Nothing is painted before the first script hears taps.
      html: page.replace('<script type="module"', '<script type="module" blocking="render"'),
      tags: Object.keys(bundle ?? {})
        .filter((file) => /\/(program|rolldown-runtime)-[^/]+\.js$/.test(file))
        .map((file) => ({
          tag: 'link',
          attrs: { rel: 'modulepreload', crossorigin: true, href: `/${file}` },
          injectTo: 'head',
        })),
    }),
  },
};

// The server's policy forbids inline scripts and data: modules, hence no inlined assets and no
// preload helper. Asset names carry a hash and may be cached for ever.
export default defineConfig({
  plugins: [programAhead],
  publicDir: 'public',
  build: {
    outDir: 'site/app',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    rolldownOptions: { output: { codeSplitting: oneProgram } },
  },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  worker: { format: 'es' },
  server: { fs: { allow: ['..'] } },
});
