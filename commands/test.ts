import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { findBrowser } from '../test/support/browser-program.ts'
import { findElectron } from '../test/support/electron-program.ts'
import { openDisplay } from '../test/support/display.ts'
import { available, type Means } from '../test/support/means.ts'
import { buildIfStale } from './build.ts'
import { runChecks } from './checks.ts'
import { projectFolder, runProgram } from './run-program.ts'

interface Count {
  readonly passed: number
  readonly failed: number
  readonly skipped: number
}

interface Part {
  readonly title: string
  /** The vitest projects that it consists of. */
  readonly projects: readonly string[]
  /** Why this machine cannot run it, if so; looked up when its turn comes. */
  readonly needs?: () => Promise<Means<unknown>>
}

const parts: readonly Part[] = [
  { title: 'Core', projects: ['core'] },
  { title: 'Store', projects: ['db'] },
  { title: 'Desk, shells without a window, and what pages compute', projects: ['desk', 'pages'] },
  { title: 'The app in a browser', projects: ['browser'], needs: findBrowser },
]
const window: Part = { title: 'The app in its window', projects: ['shell'], needs: findWindow }

const vitest = 'vitest/vitest.mjs'
const reports = mkdtempSync(join(tmpdir(), 'out-of-clamps-reports-'))
const lines: string[] = []
const counts: Count[] = []
/** Told once more at the end: what failed in the middle of a long account is soon lost. */
const failures: string[] = []

if (await buildIfStale()) {
  // Windows are opened one after the other and mostly waited for, so the checks, one at a time, have a core of their own.
  title(`${window.title}, and static checks beside it`)
  await Promise.all([timed(window.title, () => run(window)), timed('Static checks', checkSources)])
  for (const part of parts) {
    title(part.title)
    await timed(part.title, () => run(part))
  }
} else {
  title('Static checks')
  await timed('Static checks', checkSources)
  note('Build', { passed: 0, failed: 1, skipped: 0 })
}
rmSync(reports, { recursive: true })

const total = counts.reduce(sum, { passed: 0, failed: 0, skipped: 0 })
console.log(`\n${[...failures, ...lines].join('\n')}\n\n${written(total)}`)
process.exit(total.failed === 0 && total.passed > 0 ? 0 : 1)

async function timed(name: string, work: () => Promise<Count>): Promise<void> {
  const startedMs = performance.now()
  const count = await work()
  note(`${name}, ${((performance.now() - startedMs) / 1000).toFixed(0)} s`, count)
}

async function checkSources(): Promise<Count> {
  return { ...(await runChecks(1)), skipped: 0 }
}

async function run({ projects, needs }: Part): Promise<Count> {
  const means = (await needs?.()) ?? available(undefined)
  return means.there ? runTests(projects) : skip(projects, means.why)
}

async function findWindow(): Promise<Means<unknown>> {
  const electron = await findElectron()
  if (!electron.there) return electron
  const display = await openDisplay()
  if (!display.there) return display
  display.value.close()
  return available(undefined)
}

/** Runs vitest on some projects: its own account on the screen, the numbers out of its report. */
async function runTests(projects: readonly string[]): Promise<Count> {
  const report = join(reports, `${projects.join('-')}.json`)
  const args = [
    'run',
    ...projectSwitches(projects),
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ]
  const { code } = await runProgram(vitest, args)
  if (!existsSync(report)) return { passed: 0, failed: 1, skipped: 0 }
  const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, 'utf8')) as Report

  const notRun = testResults.flatMap(({ name, assertionResults }) =>
    assertionResults
      .filter(({ status }) => status !== 'passed' && status !== 'failed')
      .map(({ fullName }) => `${relative(projectFolder, name)}: ${fullName}`),
  )
  for (const test of notRun) lines.push(`skipped: ${test}`)
  for (const { name, assertionResults } of testResults)
    for (const { fullName, status, failureMessages, meta } of assertionResults)
      if (status === 'failed')
        failures.push(
          [`${relative(projectFolder, name)}: ${fullName}`, ...failureMessages, meta?.pagesShowed ?? ''].join('\n'),
        )
  // A file that cannot be read has no tests to fail, and a fault between tests belongs to none.
  const broken = testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && !assertionResults.some((test) => test.status === 'failed'),
  ).length
  const failed = numFailedTests + broken
  return { passed: numPassedTests, failed: failed === 0 && code !== 0 ? 1 : failed, skipped: notRun.length }
}

/** Counts what this machine cannot run, test by test. */
async function skip(projects: readonly string[], why: string): Promise<Count> {
  console.log(`Skipped: ${why}.`)
  const list = join(reports, `${projects.join('-')}-list.json`)
  const { output } = await runProgram(vitest, ['list', ...projectSwitches(projects), `--json=${list}`], {
    shown: false,
  })
  if (!existsSync(list)) {
    console.log(output)
    return { passed: 0, failed: 1, skipped: 0 }
  }
  const tests = JSON.parse(readFileSync(list, 'utf8')) as { name: string; file: string }[]
  lines.push(`skipped because ${why}:`)
  for (const { name, file } of tests) lines.push(`skipped: ${relative(projectFolder, file)}: ${name}`)
  return { passed: 0, failed: 0, skipped: tests.length }
}

interface Report {
  readonly numPassedTests: number
  readonly numFailedTests: number
  readonly testResults: readonly {
    readonly name: string
    readonly status: string
    readonly assertionResults: readonly {
      readonly fullName: string
      readonly status: string
      readonly failureMessages: readonly string[]
      readonly meta?: { readonly pagesShowed?: string }
    }[]
  }[]
}

function projectSwitches(projects: readonly string[]): string[] {
  return projects.map((project) => `--project=${project}`)
}

function title(text: string): void {
  console.log(`\n${text}\n${'='.repeat(text.length)}`)
}

function note(part: string, count: Count): void {
  counts.push(count)
  lines.push(`${part}: ${written(count)}`)
}

function sum(one: Count, other: Count): Count {
  return {
    passed: one.passed + other.passed,
    failed: one.failed + other.failed,
    skipped: one.skipped + other.skipped,
  }
}

function written({ passed, failed, skipped }: Count): string {
  return `${passed} passed, ${failed} failed, ${skipped} skipped`
}
