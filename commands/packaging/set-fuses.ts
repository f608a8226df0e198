import { join } from 'node:path'
import { flipFuses, FuseV1Options, FuseVersion } from '@electron/fuses'
import { EXECUTABLE } from './names.ts'

/** What a packaged program refuses: to be a Node, to be steered by the environment, to load anything but its own archive. */
export const FUSES = {
  [FuseV1Options.RunAsNode]: false,
  [FuseV1Options.EnableNodeOptionsEnvironmentVariable]: false,
  [FuseV1Options.EnableNodeCliInspectArguments]: false,
  [FuseV1Options.EnableEmbeddedAsarIntegrityValidation]: true,
  [FuseV1Options.OnlyLoadAppFromAsar]: true,
  [FuseV1Options.GrantFileProtocolExtraPrivileges]: false,
} as const

export async function setFuses(folder: string, productName: string): Promise<void> {
  await flipFuses(programIn(folder, productName), {
    version: FuseVersion.V1,
    // An ad hoc signature of macOS no longer fits afterwards.
    resetAdHocDarwinSignature: process.platform === 'darwin' && process.arch === 'arm64',
    ...FUSES,
  })
}

function programIn(folder: string, productName: string): string {
  switch (process.platform) {
    case 'darwin':
      return join(folder, `${productName}.app`)
    case 'win32':
      return join(folder, `${EXECUTABLE}.exe`)
    default:
      return join(folder, EXECUTABLE)
  }
}
