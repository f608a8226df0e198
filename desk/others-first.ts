import { setImmediate } from 'node:timers/promises'

/**
 * Lets whoever asks the desk meanwhile have the answer first: to be waited for between the parts of what takes long and nobody waits
 * for.
 */
export const othersFirst = (): Promise<void> => setImmediate()

/** Does something in its parts, and lets others have their turn between them. */
export async function inTurns<T>(parts: Generator<void, T>): Promise<T> {
  for (;;) {
    const part = parts.next()
    if (part.done === true) return part.value
    await othersFirst()
  }
}
