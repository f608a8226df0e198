import type { TestProject } from 'vitest/node'
import { buildIfStale } from '../../commands/build.ts'
import { openDisplay } from './display.ts'
import { findElectron } from './electron-program.ts'
import './provided.ts'

export default async function setUp(project: TestProject): Promise<() => void> {
  if (!(await buildIfStale())) throw new Error('The app does not build.')
  const electron = await findElectron()
  if (!electron.there) throw new Error(electron.why)
  const display = await openDisplay()
  if (!display.there) throw new Error(display.why)
  const env = { ...electron.value.env, ...display.value.env }
  project.provide('shell', {
    kind: 'window',
    program: electron.value.program,
    env,
    isPinnedThere: electron.value.isPinnedThere,
  })
  return display.value.close
}
