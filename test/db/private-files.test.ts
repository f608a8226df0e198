import { chmodSync, mkdirSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { keepPrivate } from '../../db/private-files.ts'
import { aFolder } from './support/shop-files.ts'

test.runIf(process.platform !== 'win32')(
  'a data folder that others can read is closed to them, a shared one is left',
  () => {
    const folder = join(aFolder(), 'shop')
    mkdirSync(join(folder, 'backups'), { recursive: true })
    writeFileSync(join(folder, 'shop.sqlite'), '')
    for (const name of ['', 'backups']) chmodSync(join(folder, name), 0o755)
    chmodSync(join(folder, 'shop.sqlite'), 0o644)
    keepPrivate(folder)
    const mode = (name: string): number => statSync(join(folder, name)).mode & 0o7777
    expect([mode(''), mode('backups'), mode('shop.sqlite')]).toEqual([0o700, 0o700, 0o600])
    chmodSync(folder, 0o1777)
    keepPrivate(folder)
    expect(mode('')).toBe(0o1777)
  },
)
