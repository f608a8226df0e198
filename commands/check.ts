import { runChecks } from './checks.ts'

const { failed } = await runChecks()
process.exit(failed === 0 ? 0 : 1)
