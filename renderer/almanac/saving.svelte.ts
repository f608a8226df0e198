import type { Problem } from '../../core/problems.ts'
import type { Reply } from '../../desk/procedure.ts'
import { said } from '../said.svelte.ts'
import type { Moved } from '../../desk/moved.ts'

/** Saving from one place of a form: what is wrong is said beside its fields, what was done in the frame's line. */
export class Saving {
  problems = $state.raw<readonly Problem[]>([])

  /** True when it was saved. */
  async save(action: () => Promise<Reply<Moved>>): Promise<boolean> {
    const saved = await said.after(action)
    this.problems = said.problems
    if (!saved) said.clear()
    return saved
  }

  clear(): void {
    this.problems = []
  }

  /** What is wrong with one field, by its path in what was saved. */
  of(field: string): readonly Problem[] {
    return this.problems.filter((problem) => problem.field === field || problem.field?.startsWith(`${field}.`) === true)
  }

  /** What is wrong with none of these fields in particular. */
  others(fields: readonly string[]): readonly Problem[] {
    return this.problems.filter(
      ({ field }) => field === undefined || !fields.some((name) => field === name || field.startsWith(`${name}.`)),
    )
  }
}
