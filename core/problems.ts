/**
 * What the maker can mend: a named problem as a value, never an exception. Exceptions are for bugs and broken machines.
 *
 * `message` is a whole sentence for people (what is wrong, where, what would do); `code` is for programs;
 * `field` is the path of the input that is wrong, dotted, with list positions as numbers: `pieces.0.spec.cellsAcross`.
 */
export interface Problem {
  readonly code: string
  readonly message: string
  readonly field?: string
  /** Where it is about one commission of many. */
  readonly commissionId?: string
}

export type Result<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problems: readonly Problem[] }

export const ok = <T>(value: T): Result<T> => ({ ok: true, value })

export const failed = (...problems: readonly Problem[]): Result<never> => ({ ok: false, problems })

export const problem = (code: string, message: string, field?: string): Problem =>
  field === undefined ? { code, message } : { code, message, field }

/** The same problem seen from one level further out: its field gets a prefix. */
export const within = (prefix: string, inner: Problem): Problem => ({
  ...inner,
  field: inner.field === undefined ? prefix : `${prefix}.${inner.field}`,
})

const SUPERSEDED = 'superseded'

/** What a question is answered with whose place a newer one has taken. */
export const superseded = failed(problem(SUPERSEDED, 'A newer question has taken the place of this one.'))

export const isSuperseded = (result: Result<unknown>): boolean => !result.ok && result.problems[0]?.code === SUPERSEDED
