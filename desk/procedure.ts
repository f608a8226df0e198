import { z } from 'zod'
import { failed, problem, type Problem, type Result } from '../core/problems.ts'
import { storeProblem } from '../db/store-faults.ts'
import { lostInJson } from './survives-json.ts'

/** What comes back from a procedure: its value, or what the maker can mend. A fault of the app is a problem too. */
export type Reply<T> = Result<T>

/** One thing that can be asked of the desk: the form of its input, and what it does with a context. */
export interface Procedure<Context, Schema extends z.core.$ZodType, Output> {
  readonly input: Schema
  run(context: Context, input: z.output<Schema>): Result<Output> | Promise<Result<Output>>
}

export type ProcedureTable<Context> = Readonly<Record<string, Procedure<Context, z.core.$ZodType, unknown>>>

/**
 * Makes the function that defines procedures of one context:
 *
 *     const procedure = proceduresOf<DeskContext>()
 *     export const procedures = { orderById: procedure(z.strictObject({ id: z.int() }), (desk, { id }) => ...) }
 */
export const proceduresOf =
  <Context>() =>
  <Schema extends z.core.$ZodType, Output>(
    input: Schema,
    run: (context: Context, input: z.output<Schema>) => Result<Output> | Promise<Result<Output>>,
  ): Procedure<Context, Schema, Output> => ({ input, run })

/** Input of a procedure that needs none. */
export const noInput = z.strictObject({})

/** The table as its callers see it: `client.orderById({ id: 7 })`; without an argument where no input is needed. */
export type Client<Table> = {
  readonly [Name in keyof Table]: Table[Name] extends Procedure<never, infer Schema, infer Output>
    ? Record<string, never> extends z.input<Schema>
      ? (input?: Unchanged<z.input<Schema>>) => Promise<Reply<Output>>
      : (input: Unchanged<z.input<Schema>>) => Promise<Reply<Output>>
    : never
}

/** A caller's value is only read: so it may hold lists and fields that are readonly, all the way down. */
type Unchanged<T> = T extends object ? { readonly [Key in keyof T]: Unchanged<T[Key]> } : T

export interface AnswerOptions {
  /** Where faults are written; the caller never sees them. */
  readonly logFault?: (name: string, fault: unknown) => void
  /** Treat a value that JSON would change as a fault. For tests: the two shells carry values differently. */
  readonly checkJson?: boolean
}

/**
 * Runs one procedure of a table. Never throws: an unknown name, an input of the wrong form and a fault inside are
 * replies. A refusal of the disk is told in words. What another fault was is logged, not told: it is of no use to the
 * maker and may hold what is private.
 */
export async function answer<Context>(
  table: ProcedureTable<Context>,
  context: Context,
  name: string,
  input: unknown,
  { logFault = logToConsole, checkJson = false }: AnswerOptions = {},
): Promise<Reply<unknown>> {
  const procedure = Object.hasOwn(table, name) ? table[name] : undefined
  if (procedure === undefined) return failed(unknownProcedure)
  try {
    const checked = await z.safeParseAsync(procedure.input, input, { error: sentence })
    if (!checked.success) return { ok: false, problems: checked.error.issues.map(problemOf) }
    const reply = await procedure.run(context, checked.data)
    const lost = checkJson ? lostInJson(reply) : undefined
    if (lost !== undefined) throw new TypeError(`The reply of ${name} does not survive JSON at ${lost}.`)
    return reply
  } catch (fault) {
    logFault(name, fault)
    return failed(storeProblem(fault) ?? hiddenFault)
  }
}

const unknownProcedure = problem(
  'unknown-procedure',
  'This page asked for something that the app does not know. Restart the app to get both to the same version.',
)

const hiddenFault = problem(
  'fault',
  'Something went wrong inside the app. Check that your last entry is there; if this happens again, restart.',
)

const logToConsole = (name: string, fault: unknown): void => console.error(`Fault in ${name}:`, fault)

function problemOf(issue: z.core.$ZodIssue): Problem {
  const path = issue.code === 'unrecognized_keys' ? [...issue.path, issue.keys[0] ?? ''] : issue.path
  const field = path.map(String).join('.')
  return problem(codeOf(issue), issue.message, field === '' ? undefined : field)
}

function codeOf(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'too_small':
      return 'too-small'
    case 'too_big':
      return 'too-big'
    case 'unrecognized_keys':
      return 'unknown-field'
    default:
      return 'bad-input'
  }
}

/** Sentence for an issue to which its schema gave no message of its own. */
function sentence(issue: z.core.$ZodRawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return issue.input === undefined
        ? 'This is missing: fill it in.'
        : `This must be ${typeWords[issue.expected] ?? 'of another kind'}.`
    case 'too_small':
      return tooSmall(issue.origin, Number(issue.minimum), issue.inclusive ?? true)
    case 'too_big':
      return tooBig(issue.origin, Number(issue.maximum), issue.inclusive ?? true)
    case 'not_multiple_of':
      return `This must be a multiple of ${issue.divisor}.`
    case 'invalid_format':
      return 'This is not written in a form that can be read.'
    case 'invalid_value':
      return `This must be one of: ${issue.values.map(String).join(', ')}.`
    case 'unrecognized_keys':
      return `Nothing is known of ${issue.keys.map((key) => `“${key}”`).join(', ')}: leave it out.`
    default:
      return 'This is none of the forms that are possible here.'
  }
}

const typeWords: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'yes or no',
  array: 'a list',
  object: 'a group of fields',
  record: 'a group of fields',
}

function tooSmall(origin: string, minimum: number, inclusive: boolean): string {
  if (origin === 'string')
    return minimum === 1 ? 'This is empty: fill it in.' : `This needs ${minimum} characters or more.`
  if (origin === 'array' || origin === 'set') return `This needs ${minimum} or more entries.`
  return inclusive ? `This must be ${minimum} or more.` : `This must be more than ${minimum}.`
}

function tooBig(origin: string, maximum: number, inclusive: boolean): string {
  if (origin === 'string') return `This may have ${maximum} characters at most.`
  if (origin === 'array' || origin === 'set') return `This may have ${maximum} entries at most.`
  return inclusive ? `This must be ${maximum} or less.` : `This must be less than ${maximum}.`
}
