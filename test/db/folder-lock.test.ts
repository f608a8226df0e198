import { existsSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { lockFolder, whoHolds } from '../../db/folder-lock.ts'
import { runProgram } from './support/programs.ts'
import { aFolder, problemOf, START_MS, valueOf } from './support/shop-files.ts'

const here = { where: 'the window', pid: process.pid, sinceMs: START_MS }

test('a folder that another process holds is refused, and the refusal says who holds it', async () => {
  const folder = aFolder()
  const other = runProgram('hold-folder.ts', folder)
  await other.line((line) => line === 'held')
  const refusal = problemOf(lockFolder(folder, here))
  expect(refusal.code).toBe('folder-in-use')
  expect(refusal.message).toContain('already open in the browser at http://127.0.0.1:4123')
  expect(refusal.message).toContain('since 2026-11-25 18:00 UTC')
  expect(refusal.message).toContain(`process ${other.process.pid}`)
})

test('a folder is free again when its holder is killed, without anybody tidying up', async () => {
  const folder = aFolder()
  const other = runProgram('hold-folder.ts', folder)
  await other.line((line) => line === 'held')
  await other.kill()
  expect(whoHolds(folder)).not.toBeNull()
  valueOf(lockFolder(folder, here)).release()
})

test('a folder is free again when its holder gives it back, and nobody is named any more', () => {
  const folder = aFolder()
  const lock = valueOf(lockFolder(folder, here))
  expect(whoHolds(folder)).toEqual(here)
  lock.release()
  lock.release()
  expect(whoHolds(folder)).toBeNull()
  valueOf(lockFolder(folder, here)).release()
})

test('also one process holds a folder only once', () => {
  const folder = aFolder()
  const lock = valueOf(lockFolder(folder, here))
  expect(problemOf(lockFolder(folder, here)).code).toBe('folder-in-use')
  expect(problemOf(lockFolder(folder, here)).code).toBe('folder-in-use')
  lock.release()
})

test('of many processes that want a folder at once, one gets it', async () => {
  const folder = aFolder()
  const others = Array.from({ length: 5 }, () => runProgram('hold-folder.ts', folder))
  const answers = await Promise.all(others.map((other) => other.line(() => true)))
  expect(answers.filter((answer) => answer === 'held')).toHaveLength(1)
  expect(answers.filter((answer) => answer.startsWith('This shop is already open'))).toHaveLength(4)
})

test('the folder is made when it is missing, and a note that cannot be read does not stop the refusal', async () => {
  const folder = join(aFolder(), 'new', 'shop')
  const lock = valueOf(lockFolder(folder, here))
  expect(existsSync(folder)).toBe(true)
  expect(readdirSync(folder).filter((name) => name.startsWith('in-use.json'))).toEqual(['in-use.json'])
  writeFileSync(join(folder, 'in-use.json'), '{"where": 3')
  expect(problemOf(lockFolder(folder, here)).message).toContain('already open on this computer')
  lock.release()
})
