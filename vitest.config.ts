import { availableParallelism } from 'node:os'
import { defineConfig } from 'vitest/config'
import { PATIENCE_MS } from './test/support/patience.ts'

// better-sqlite3 ends the whole process on an older Node, which would look like a crash of the tests.
if (Number.parseInt(process.versions.node) < 24) {
  throw new Error(`The tests run on Node 24: start them with npm test, or with npx vitest; this is ${process.version}.`)
}

/** vitest leaves one core idle: on two that is half of the machine. */
const everyCore = { maxWorkers: availableParallelism() }

/**
 * For what is computed and kept in folders of its own, and leaves nothing behind in its process: a file after the other in
 * one process, which has the sources read, compiled and warm.
 */
const together = { ...everyCore, isolate: false }

/** What properties draw is the same in every run. */
const oneSeed = { setupFiles: ['test/support/one-seed.ts'] }

/** Long enough, in milliseconds, that only what hangs is stopped, however busy the machine is. */
const patient = { testTimeout: 240_000, hookTimeout: 240_000, expect: { poll: { timeout: PATIENCE_MS } } }

export default defineConfig({
  test: {
    // Only `*.test.ts` are tests: a benchmark beside them is never picked up.
    projects: [
      {
        test: {
          name: 'core',
          include: ['test/core/**/*.test.ts', 'test/benchmarks/**/*.test.ts'],
          ...together,
          ...oneSeed,
          ...patient,
        },
      },
      { test: { name: 'db', include: ['test/db/**/*.test.ts'], ...everyCore, ...oneSeed, ...patient } },
      { test: { name: 'pages', include: ['test/renderer/**/*.test.ts'], ...together, ...oneSeed, ...patient } },
      {
        test: {
          name: 'desk',
          include: ['test/desk/**/*.test.ts', 'test/electron/**/*.test.ts'],
          // A new shop takes its time zone from the computer.
          env: { TZ: 'America/Chicago' },
          setupFiles: ['test/support/counted-ids.ts', ...oneSeed.setupFiles],
          ...together,
          ...patient,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['test/app/**/*.test.ts'],
          globalSetup: 'test/support/set-up-browser.ts',
          ...everyCore,
          ...patient,
        },
      },
      {
        test: {
          name: 'shell',
          include: ['test/shell/**/*.test.ts', 'test/app/in-both-shells/**/*.test.ts'],
          globalSetup: 'test/support/set-up-window.ts',
          fileParallelism: false,
          ...patient,
        },
      },
    ],
  },
})
