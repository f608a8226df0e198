import type { LaunchOptions } from 'playwright-core'

/** In which shell the tests of this project open the app, and with what. */
export type Shell =
  | { readonly kind: 'browser'; readonly launch: Pick<LaunchOptions, 'executablePath' | 'args' | 'env'> }
  | {
      readonly kind: 'window'
      readonly program: string
      readonly env: Readonly<Record<string, string>>
      /** The Electron that package.json pins is installed, or could be. */
      readonly isPinnedThere: boolean
    }

declare module 'vitest' {
  interface ProvidedContext {
    shell: Shell
  }
}
