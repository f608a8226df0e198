import type { Clock } from './clock.ts'
import { FINISH_CLOCKS, type FinishClass, type FinishClockName } from './finish-class.ts'
import { finishClass } from './finish-classes.ts'
import { GLUE_CLOCKS, type GlueClass, type GlueClockName } from './glue-class.ts'
import { glueClass } from './glue-classes.ts'
import type { TablePoint } from './temperature-response.ts'

/**
 * A glue or finish as it stands on the shelf: a class, and what its own label says. A figure of the label always wins over the
 * class; where it came from is known for every value (`Clock.standing`).
 */
export interface Product {
  /** A `GlueClassId` or `FinishClassId`; the two never share one. */
  readonly class: string
  readonly name: string
  readonly label: { readonly [quantity: string]: LabelRange }
  /** Clamp times that the label prints by temperature, cold to warm; read as `minutesFromTable` does. */
  readonly table?: readonly TablePoint[]
}

/**
 * Minutes for clocks. Besides these a label may say `coldestC`, `warmestC` and `doublingC` in degrees Celsius and `dampestRh` as a
 * fraction. min <= typical <= max.
 */
export interface LabelRange {
  readonly min: number
  readonly typical: number
  readonly max: number
}

export type ClockName = GlueClockName | FinishClockName

export type ProductClass =
  { readonly kind: 'glue'; readonly glue: GlueClass } | { readonly kind: 'finish'; readonly finish: FinishClass }

/** The class of a product; null where a stored class is unknown to this version. */
export function classOf(product: Product): ProductClass | null {
  const glue = glueClass(product.class)
  if (glue !== null) return { kind: 'glue', glue }
  const finish = finishClass(product.class)
  return finish === null ? null : { kind: 'finish', finish }
}

/** The names of the clocks that a product has, in the order in which they run. */
export function clockNames(product: Product): readonly ClockName[] {
  const of = classOf(product)
  if (of === null) return []
  return of.kind === 'glue' ? GLUE_CLOCKS : FINISH_CLOCKS.filter((name) => clockOf(product, name) !== null)
}

/** One clock of a product at reference conditions: the label's figure, else the class's; null: it has no such clock. */
export function clockOf(product: Product, name: ClockName): Clock | null {
  const fromClass = classClock(classOf(product), name)
  const own = product.label[name]
  if (own === undefined) return fromClass
  return {
    min: own.min,
    typical: own.typical,
    max: own.max,
    conditions: fromClass?.conditions ?? '',
    source: `label of ${product.name}`,
    standing: 'label',
  }
}

/** How long a mixed glue stays usable, at reference conditions; null: it is not mixed. */
export function potLifeOf(product: Product): Clock | null {
  const of = classOf(product)
  return of?.kind === 'glue' ? of.glue.potLife : null
}

/** Grams of glue per square metre of one joint: the label's figure, else the class's; null: neither has one. */
export function spreadOf(product: Product): GlueClass['spread'] {
  const own = product.label['spreadGsm']
  if (own !== undefined) return { min: own.min, max: own.max, source: `label of ${product.name}` }
  const of = classOf(product)
  return of?.kind === 'glue' ? of.glue.spread : null
}

/** Outside these limits a product is not applied; `fromLabel` says whether any of them is its label's own. */
export interface ProductLimits {
  readonly of: 'glue' | 'finish'
  readonly coldestC: number
  readonly warmestC: number
  readonly dampestRh: number
  readonly fromLabel: boolean
  readonly source: string
}

/** The limits of a product; null for an unknown class. Glues have no upper limits of their own. */
export function limitsOf(product: Product): ProductLimits | null {
  const of = classOf(product)
  if (of === null) return null
  const byClass =
    of.kind === 'finish'
      ? of.finish.limits
      : { coldestC: of.glue.coldestC.typical, warmestC: Infinity, dampestRh: 1, source: of.glue.coldestC.source }
  const { coldestC, warmestC, dampestRh } = product.label
  const fromLabel = coldestC !== undefined || warmestC !== undefined || dampestRh !== undefined
  return {
    of: of.kind,
    coldestC: coldestC?.typical ?? byClass.coldestC,
    warmestC: warmestC?.typical ?? byClass.warmestC,
    dampestRh: dampestRh?.typical ?? byClass.dampestRh,
    fromLabel,
    source: fromLabel ? `label of ${product.name}` : byClass.source,
  }
}

/** Deadlines are instants by which something must have happened; every other clock is a wait. */
export const isDeadline = (name: ClockName): boolean =>
  name === 'open' || name === 'assembly' || name === 'recoatCloses'

function classClock(of: ProductClass | null, name: ClockName): Clock | null {
  if (of === null) return null
  const clocks: Readonly<Partial<Record<ClockName, Clock | null>>> =
    of.kind === 'glue' ? of.glue.clocks : of.finish.clocks
  return clocks[name] ?? null
}
