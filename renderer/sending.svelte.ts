import type { Problem } from '../core/problems.ts'
import type { Reply } from '../desk/procedure.ts'
import type { Moved } from '../desk/moved.ts'
import { said } from './said.svelte.ts'

/**
 * A form's way to the desk. What was typed is not lost because something else still runs: it waits for its turn. A second press of
 * the same form meanwhile does nothing.
 */
export class Sending {
  /** From the press until the answer. */
  busy = $state(false)
  /** What the desk found wrong with what was sent last. */
  problems = $state.raw<readonly Problem[]>([])

  /** True when it was done. */
  async send(action: () => Promise<Reply<Moved>>): Promise<boolean> {
    if (this.busy) return false
    this.busy = true
    try {
      return await said.after(async () => {
        const reply = await action()
        this.problems = reply.ok ? [] : reply.problems
        return reply
      })
    } finally {
      this.busy = false
    }
  }

  /** What is wrong with one field. */
  of(field: string): readonly Problem[] {
    return this.problems.filter((problem) => problem.field === field)
  }
}
