import { join } from 'node:path'

/** What a user's own folder depends on. */
export interface Surroundings {
  readonly platform: NodeJS.Platform
  readonly home: string
  readonly env: Readonly<Record<string, string | undefined>>
}

/**
 * The folder in which the shop keeps its data for this user, where each system keeps such things: the one that Electron
 * calls `userData`, worked out without Electron so that browser mode opens the same shop.
 */
export function userDataFolder({ platform, home, env }: Surroundings): string {
  switch (platform) {
    case 'win32':
      return join(env['APPDATA'] ?? join(home, 'AppData', 'Roaming'), appName)
    case 'darwin':
      return join(home, 'Library', 'Application Support', appName)
    default:
      return join(env['XDG_CONFIG_HOME'] || join(home, '.config'), appName)
  }
}

/** The demo shop's own folder, so that it can never be mixed up with the real shop. */
export const demoFolder = (userData: string): string => join(userData, 'demo')

const appName = 'Out of Clamps'
