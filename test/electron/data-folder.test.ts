import { expect, test } from 'vitest'
import { userDataFolder } from '../../electron/data-folder.ts'

// Where each system keeps an app's data, as Electron's documentation of `app.getPath` says for `appData`.
test.skipIf(process.platform === 'win32').each([
  ['linux', {}, '/home/ada/.config/Out of Clamps'],
  ['linux', { XDG_CONFIG_HOME: '/data/settings' }, '/data/settings/Out of Clamps'],
  ['linux', { XDG_CONFIG_HOME: '' }, '/home/ada/.config/Out of Clamps'],
  ['darwin', {}, '/home/ada/Library/Application Support/Out of Clamps'],
  ['win32', { APPDATA: '/home/ada/AppData/Roaming' }, '/home/ada/AppData/Roaming/Out of Clamps'],
] as const)('on %s with %j the shop is kept in %s', (platform, env, folder) => {
  expect(userDataFolder({ platform, home: '/home/ada', env })).toBe(folder)
})
