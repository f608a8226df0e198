import { execFile } from 'node:child_process'
import { join } from 'node:path'
import { parseEnv } from 'node:util'
import { available, missing, type Means } from './means.ts'

/**
 * An Electron for the tests: the one that is installed or can be downloaded, and where its release page cannot be
 * reached, an older one out of the package registry (`test/shell/runtime`).
 */
export async function findElectron(): Promise<
  Means<{
    readonly program: string
    readonly env: Readonly<Record<string, string>>
    /** The one that package.json pins is installed, or could be. */
    readonly isPinnedThere: boolean
  }>
> {
  const given = process.env['ELECTRON_EXEC_PATH']
  const own = await run(process.execPath, ['-p', "require('electron')"])
  const program = own.output.trim().split('\n').at(-1)
  const isPinnedThere = own.failure === undefined && program !== undefined
  if (given !== undefined) return available({ program: given, env: {}, isPinnedThere })
  if (isPinnedThere) return available({ program, env: {}, isPinnedThere })

  const prepared = await run(join(projectFolder, 'test/shell/runtime/prepare'), [projectFolder], 'tell')
  if (prepared.failure !== undefined) return missing(`Electron cannot be downloaded, and ${prepared.failure}`)
  const env = parseEnv(prepared.output) as Record<string, string>
  const fromRegistry = env['ELECTRON_EXEC_PATH']
  return fromRegistry === undefined
    ? missing('no Electron was prepared')
    : available({ program: fromRegistry, env, isPinnedThere })
}

export const projectFolder = join(import.meta.dirname, '../..')

function run(
  program: string,
  args: string[],
  progress?: 'tell',
): Promise<{ output: string; failure: string | undefined }> {
  return new Promise((resolve) => {
    const child = execFile(program, args, { cwd: projectFolder }, (error, output, errors) =>
      resolve({ output, failure: error === null ? undefined : (errors.trim().split('\n').at(-1) ?? error.message) }),
    )
    if (progress === 'tell') child.stderr?.pipe(process.stderr)
  })
}
