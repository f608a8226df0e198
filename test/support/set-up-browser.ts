import type { TestProject } from 'vitest/node'
import { buildIfStale } from '../../commands/build.ts'
import { findBrowser } from './browser-program.ts'
import './provided.ts'

export default async function setUp(project: TestProject): Promise<void> {
  if (!(await buildIfStale())) throw new Error('The app does not build.')
  const browser = await findBrowser()
  if (!browser.there) throw new Error(browser.why)
  project.provide('shell', { kind: 'browser', launch: browser.value })
}
