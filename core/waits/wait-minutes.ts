import type { Clock } from './clock.ts'
import { COUNTED_PLAINLY, rateAt, responseOf, standstillAt } from './cure-rate.ts'
import type { AirHold } from './hold.ts'
import { bandOf, type Conditions } from './finish-bands.ts'
import { classOf, clockOf, isDeadline, type ClockName, type Product } from './product.ts'

/** How long it takes in this air, in whole elapsed minutes: min <= typical <= max. */
export interface Wait {
  readonly kind: 'wait'
  readonly min: number
  readonly typical: number
  readonly max: number
  /** The figures at reference conditions, with their source. */
  readonly reference: Clock
  /** What the figures leave out, in sentences; often empty. */
  readonly notes: readonly string[]
}

/** The product has no such clock, as an oil that never closes its recoat window. */
export interface NoWait {
  readonly kind: 'none'
}

/** A wait or deadline of a product in steady air, once it is on. Where it stands still the answer is a hold, never a bigger number. */
export function waitMinutes(product: Product, clock: ClockName, conditions: Conditions): Wait | AirHold | NoWait {
  const reference = clockOf(product, clock)
  if (reference === null) return { kind: 'none' }
  const hold = standstillAt(product, clock, conditions.celsius, conditions.rh)
  if (hold !== null) return hold
  const rate = rateAt(product, clock, conditions.celsius, conditions.rh)
  const whole = isDeadline(clock) ? Math.floor : Math.ceil
  const inThisAir = (minutes: number): number => whole(minutes / rate - (isDeadline(clock) ? -1e-9 : 1e-9))
  return {
    kind: 'wait',
    min: inThisAir(reference.min),
    typical: inThisAir(reference.typical),
    max: inThisAir(reference.max),
    reference,
    notes: notesOn(product, clock, conditions),
  }
}

/** When the next coat may go on and until when it may without sanding, in elapsed minutes after a coat. */
export interface RecoatWindow {
  readonly opens: Wait | AirHold
  /** Null: it stays open. */
  readonly closesMin: number | null
}

/** The recoat window in steady air; null where the product is no finish. */
export function recoatWindow(product: Product, conditions: Conditions): RecoatWindow | null {
  const opens = waitMinutes(product, 'recoatOpens', conditions)
  if (opens.kind === 'none') return null
  const width = recoatWindowWidth(product, conditions)
  return { opens, closesMin: opens.kind === 'hold' || width === null ? null : opens.typical + width }
}

/**
 * How long a recoat window stays open, elapsed minutes from its opening to its closing; null: it does not close. A coat that
 * opens later because it is cold also closes later, so the width is what is kept; in hot air it gets narrower.
 */
export function recoatWindowWidth(product: Product, { celsius, rh }: Conditions): number | null {
  const closes = clockOf(product, 'recoatCloses')
  const opens = clockOf(product, 'recoatOpens')
  if (closes === null || opens === null) return null
  const closesMin = Math.floor(closes.typical / rateAt(product, 'recoatCloses', celsius, rh))
  return Math.max(0, closesMin - opens.typical)
}

function notesOn(product: Product, clock: ClockName, conditions: Conditions): readonly string[] {
  const of = classOf(product)
  if (of === null) return []
  if (of.kind === 'glue') {
    const response = responseOf(product, of.glue)
    if (response.kind === 'no-rule' && conditions.celsius < response.referenceC && !isDeadline(clock)) {
      return ['Cold: no rule for this glue is published, so the slow end is planned with. Expect it to take longer.']
    }
    return []
  }
  const notes: string[] = []
  const band = bandOf(conditions)
  if (of.finish.family === 'never-hardens') return []
  if (COUNTED_PLAINLY.has(clock) && band !== 'good')
    notes.push('Longer when it is cold or damp: by how much is not published.')
  if (of.finish.family === 'evaporative' && conditions.rh > 0.6) notes.push('Damp air: watch for blush, a white haze.')
  if (conditions.rh < 0.3) notes.push('Very dry air: it dries fast and flows badly.')
  return notes
}
