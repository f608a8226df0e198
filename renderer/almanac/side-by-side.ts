import type { Almanac, ProductOnShelf } from '../../core/almanac/almanac.ts'
import { CLOCK_LABELS } from '../../core/almanac/facts-of-products.ts'
import { applicationHold } from '../../core/waits/application.ts'
import { FINISH_CLASSES } from '../../core/waits/finish-classes.ts'
import { GLUE_CLASSES } from '../../core/waits/glue-classes.ts'
import { classOf, clockNames, clockOf, isDeadline, limitsOf, type ProductLimits } from '../../core/waits/product.ts'
import { species, SPECIES, type Species } from '../../core/wood/species.ts'

/** What the page can show: the shelf's things first, then what is only known of. */
export type Kind = 'glues' | 'finishes' | 'woods'

/** One stretch on the scale of time: the figures of one clock. Minutes, min <= typical <= max. */
export interface TimeRange {
  readonly name: string
  readonly label: string
  /** By then something must have happened; else: not before then. */
  readonly deadline: boolean
  readonly min: number
  readonly typical: number
  readonly max: number
  readonly fromLabel: boolean
  readonly source: string
}

export interface ProductEntry {
  readonly id: string
  readonly name: string
  readonly className: string
  readonly note: string
  readonly onShelf: boolean
  readonly ranges: readonly TimeRange[]
  /** When the next coat may go on; `closes` null: the window stays open. */
  readonly window: { readonly opens: number; readonly closes: number | null } | null
  readonly limits: ProductLimits | null
  readonly product: ProductOnShelf
}

export interface WoodEntry {
  readonly id: string
  /** As customers are told, or the species. */
  readonly name: string
  readonly onShelf: boolean
  readonly species: Species
}

/** Glues or finishes of the shelf, then the classes of which nothing is on it. */
export function productEntries(almanac: Almanac, kind: 'glues' | 'finishes'): ProductEntry[] {
  const shelf = almanac[kind]
  const known = new Set(shelf.map((product) => product.class))
  const classes = kind === 'glues' ? GLUE_CLASSES : FINISH_CLASSES
  const others = classes
    .filter(({ id }) => !known.has(id))
    .map(({ id, name }): ProductOnShelf => ({ id: `class ${id}`, class: id, name, label: {} }))
  return [
    ...shelf.map((product) => entryOf(product, true)),
    ...others.map((product) => entryOf(product, false)),
  ].filter((entry) => entry !== null)
}

function entryOf(product: ProductOnShelf, onShelf: boolean): ProductEntry | null {
  const of = classOf(product)
  if (of === null) return null
  const known = of.kind === 'glue' ? of.glue : of.finish
  const ranges = clockNames(product).flatMap((name): TimeRange[] => {
    const clock = clockOf(product, name)
    if (clock === null) return []
    const { min, typical, max, standing, source } = clock
    return [
      {
        ...{ name, label: CLOCK_LABELS[name], deadline: isDeadline(name), min, typical, max, source },
        fromLabel: standing === 'label',
      },
    ]
  })
  const opens = clockOf(product, 'recoatOpens')
  return {
    ...{ id: product.id, name: product.name, className: known.name, note: known.note, onShelf, ranges, product },
    window: opens === null ? null : { opens: opens.typical, closes: clockOf(product, 'recoatCloses')?.typical ?? null },
    limits: limitsOf(product),
  }
}

/** The woods on offer, then every other species of the table. */
export function woodEntries(almanac: Almanac): WoodEntry[] {
  const offered = almanac.woods.flatMap((wood): WoodEntry[] => {
    const known = species(wood.species)
    return known === null ? [] : [{ id: wood.id, name: wood.name, onShelf: true, species: known }]
  })
  const taken = new Set(offered.map((entry) => entry.species.name))
  const others = SPECIES.filter(({ name }) => !taken.has(name))
  return [...offered, ...others.map((one) => ({ id: one.name, name: one.name, onShelf: false, species: one }))]
}

/** Whether every word that was typed is somewhere in what it is called. */
export function isFound(typed: string, ...names: readonly string[]): boolean {
  const text = names.join(' ').toLowerCase()
  return typed
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word))
}

/** Whether it may be put on at this temperature, in air of middling humidity. */
export const appliesAt = ({ product }: Pick<ProductEntry, 'product'>, celsius: number): boolean =>
  applicationHold(product, { celsius, rh: 0.5 }) === null

const LONGEST_MIN = 90 * 24 * 60

/** Where an instant lies on the scale from a minute to ninety days, 0..1: each decade of time is as wide as the next. */
export const alongTime = (minutes: number): number =>
  Math.min(1, Math.max(0, Math.log(Math.max(1, minutes)) / Math.log(LONGEST_MIN)))

export const TIME_TICKS = [
  { minutes: 1, word: '1 min' },
  { minutes: 10, word: '10 min' },
  { minutes: 60, word: '1 h' },
  { minutes: 6 * 60, word: '6 h' },
  { minutes: 24 * 60, word: '1 d' },
  { minutes: 7 * 24 * 60, word: '7 d' },
  { minutes: 30 * 24 * 60, word: '30 d' },
] as const
