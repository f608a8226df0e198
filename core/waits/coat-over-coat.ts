import type { FinishClass } from './finish-class.ts'

/** Whether a coat of one class goes over a coat of another, and how long the one below must have dried. */
export interface CoatOverCoat {
  /** `ready`: as soon as the one below may be recoated; `wait`: after so many minutes; `cured`: when it is fully cured; `never`. */
  readonly kind: 'ready' | 'wait' | 'cured' | 'never'
  /** With `wait`: least minutes at reference conditions. */
  readonly minutes: number
  /** What to mind, as a sentence; empty: nothing. */
  readonly note: string
  readonly source: string
}

const HOUR = 60
const PRACTICE = 'common practice, no source'
/** Waits between systems. */
const SYSTEMS = 'General Finishes, Difference between Dry Time and Cure Time'

/** @param above the coat that is put on, @param below the one that it is put on */
export function coatOverCoat(above: FinishClass, below: FinishClass): CoatOverCoat {
  const say = (kind: CoatOverCoat['kind'], note: string, source: string, minutes = 0): CoatOverCoat => ({
    ...{ kind, minutes, note, source },
  })
  if (above.id === below.id) return say('ready', '', 'the same finish')
  if (below.family === 'never-hardens')
    return say('never', `${above.name} doesn’t stick to ${below.name.toLowerCase()}: put it on first.`, PRACTICE)
  if (above.family === 'never-hardens') return say('cured', '', PRACTICE)
  if (above.family === 'catalysed' || below.family === 'catalysed')
    return say(
      'never',
      `${above.name} and ${below.name.toLowerCase()} only go together where a label says so.`,
      PRACTICE,
    )
  if (above.family === 'water-based' && below.family === 'oxygen-curing') {
    return below.film
      ? say('wait', 'Scuff it first.', SYSTEMS, 72 * HOUR)
      : say('cured', 'Oil under water-based finish: fully cured first.', PRACTICE)
  }
  if (above.family === 'oxygen-curing' && below.family === 'water-based')
    return say('wait', 'Scuff it first.', SYSTEMS, 24 * HOUR)
  if (above.id === 'lacquer_nc' && below.family === 'oxygen-curing')
    return say('cured', 'Lacquer lifts what isn’t fully cured.', PRACTICE)
  if (below.id === 'shellac') return say('ready', 'Only dewaxed shellac goes under another finish.', PRACTICE)
  return say('ready', '', PRACTICE)
}
