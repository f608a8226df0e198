import { resolve } from 'node:path'
import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'electron-vite'
import type { Rolldown } from 'vite'

/**
 * What the first screen needs is one file, and one of styles: each further file is one more way through the main process before
 * anything stands in the window.
 */
function withTheFirstScreen(id: string, modules: Pick<Rolldown.PluginContext, 'getModuleInfo'>): string | null {
  if (isFirst.size === 0) {
    const reach = (module: string): void => {
      if (isFirst.has(module)) return
      isFirst.add(module)
      for (const imported of modules.getModuleInfo(module)?.importedIds ?? []) reach(imported)
    }
    reach(resolve('renderer/main.ts'))
  }
  return isFirst.has(id) ? 'first' : null
}
const isFirst = new Set<string>()

export default defineConfig({
  main: {
    build: {
      // These files are read from the disk that they lie on.
      chunkSizeWarningLimit: 10_000,
      rolldownOptions: {
        // Each runs in a process or thread of its own, from a file of its own.
        input: {
          index: 'electron/main.ts',
          desk: 'electron/desk-process.ts',
          planner: 'desk/planner/planner-worker.ts',
          check: 'desk/checking/check-process.ts',
          serve: 'electron/browser-mode/serve.ts',
        },
        // What they share lies beside them: a file that is found from where the code stands is the same for all.
        output: { chunkFileNames: '[name]-[hash].js' },
      },
    },
  },
  preload: {
    build: {
      externalizeDeps: false,
      rolldownOptions: {
        input: { preload: 'electron/preload.ts' },
        // A sandboxed preload script must be one CommonJS file.
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: 'renderer',
    plugins: [svelte({ configFile: false })],
    build: {
      outDir: 'out/renderer',
      minify: true,
      assetsInlineLimit: 0,
      // How long each plugin takes is of no use to who starts the app.
      rolldownOptions: {
        input: resolve('renderer/index.html'),
        checks: { pluginTimings: false },
        output: { codeSplitting: { groups: [{ name: withTheFirstScreen }] } },
      },
    },
  },
})
