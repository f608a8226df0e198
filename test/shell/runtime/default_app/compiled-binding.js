// In place of better-sqlite3's prebuilt file, which this runtime is too old for, load the one that prepare compiled.
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

const dlopen = process.dlopen
process.dlopen = (module, file, ...rest) => {
  const prebuilt = /^(.*[\\/]better-sqlite3)[\\/]prebuilds[\\/]/.exec(file)
  if (!prebuilt) return dlopen.call(process, module, file, ...rest)
  const { version } = JSON.parse(readFileSync(join(prebuilt[1], 'package.json'), 'utf8'))
  const compiled = join(process.resourcesPath, `better-sqlite3-${version}.node`)
  if (!existsSync(compiled))
    throw new Error(`better-sqlite3 ${version} is not compiled for this Electron: run prepare again`)
  return dlopen.call(process, module, compiled, ...rest)
}
