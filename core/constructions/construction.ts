import type { LengthUnits } from '../lengths/length.ts'
import type { Result } from '../problems.ts'
import type { Drawing } from './drawing.ts'
import type { ShopFacts } from './shop-facts.ts'
import type { NetworkLag, NetworkStep } from './step-network.ts'

/**
 * How a kind of piece is built: from a spec that the maker types to parts and a step network. One module a construction;
 * a new one is a file that exports a `Construction` and a line in `constructions.ts`.
 */
export interface Construction<Spec> {
  /** Stable id, stored with each piece: `end-grain-board`. */
  readonly id: string
  readonly name: string
  /** One line for the chooser: what it is and what it is good for. */
  readonly about: string
  /** The spec's fields in the order in which a conversation settles them. */
  readonly fields: readonly Field[]
  /** What the form holds before anything is typed: lengths as text in the maker's units. */
  starting(units: Units): SpecInput
  /** Checks what was typed; every problem names its field. A bare number is in `units`. */
  read(input: SpecInput, units: Units, facts: ShopFacts): Result<Spec>
  /** The inverse of `read`, for editing what is stored. */
  write(spec: Spec, units: Units): SpecInput
  /** What it means: geometry, parts and steps for one lot of `count` equal pieces. */
  build(spec: Spec, count: number, facts: ShopFacts): Result<Build>
  /** One piece drawn to scale; null where nothing is known of its shape. */
  draw(spec: Spec, facts: ShopFacts): Drawing | null
}

export type Units = LengthUnits

/** What the form holds: plain JSON, texts as typed. Rows (patterns, free steps) are arrays of objects of texts. */
export type SpecInput = { readonly [key: string]: SpecValue }
export type SpecValue = string | boolean | readonly { readonly [key: string]: string | boolean }[]

export type Field = {
  readonly key: string
  readonly label: string
  /** A short example or explanation under the field. */
  readonly hint?: string
  /** Shown only when that other field holds one of these values. */
  readonly when?: { readonly key: string; readonly is: readonly (string | boolean)[] }
  /** Rarely asked for: kept folded away under its piece, until somebody wants it. */
  readonly extra?: boolean
} & (
  | { readonly kind: 'length'; readonly leastNm: number; readonly mostNm: number }
  /** A whole number; `optional`: may be left empty, the hint says what it is then. */
  | { readonly kind: 'count'; readonly least: number; readonly most: number; readonly optional?: boolean }
  | { readonly kind: 'text' }
  | { readonly kind: 'yes-no' }
  /** `formerly`: what values that older drafts and orders hold are called now. */
  | {
      readonly kind: 'choice'
      readonly choices: readonly { readonly value: string; readonly label: string }[]
      readonly formerly?: Readonly<Record<string, string>>
    }
  /** One of the almanac's woods, glues or finishes, by id. */
  | { readonly kind: 'wood' }
  | { readonly kind: 'glue' }
  | { readonly kind: 'finish' }
  | { readonly kind: 'rows'; readonly columns: readonly Field[] }
)

export interface Build {
  /** `End-grain board 16" x 12" x 1 1/2", walnut and maple checkerboard`: enough to know the piece by on the rack. */
  readonly title: string
  /** The sizes that follow from the spec, in reading order, each with its rule. */
  readonly geometry: readonly Fact[]
  readonly parts: readonly Part[]
  readonly steps: readonly NetworkStep[]
  readonly lags: readonly NetworkLag[]
  /** What is bought and fitted to the whole lot: feet, hinges, fasteners; absent where it needs none. */
  readonly fittings?: readonly Fitting[]
  /** Glue and finish for the whole lot; absent where the construction knows no areas. */
  readonly consumed?: readonly Consumed[]
  /** What may go wrong with this design or needs asking; not a refusal. Sentences. */
  readonly warnings: readonly string[]
}

/** Something that is not made of the almanac's woods. */
export interface Fitting {
  readonly name: string
  readonly quantity: number
  readonly note: string
}

/**
 * Glue or finish by the area it is put on, square metres; `product` is its id in the almanac. `part`: in front of the keys of the coats
 * that it is put on with, where a part is finished in its own way (`base-`); absent: all of the piece, or the rest of it.
 */
export type Consumed =
  | { readonly kind: 'glue'; readonly product: string; readonly squareMetres: number }
  | {
      readonly kind: 'finish'
      readonly product: string
      readonly squareMetres: number
      readonly coats: number
      readonly part?: string
    }

/** A computed figure that can be asked "why?". */
export interface Fact {
  readonly key: string
  readonly label: string
  readonly value: FactValue
  /** The rule in words with its inputs: "8 cells of 1 1/2 in". */
  readonly rule: string
  /** Where the rule or figure comes from: a publication, or 'common practice, no source'. */
  readonly source: string
}

export type FactValue =
  | { readonly kind: 'length'; readonly nm: number }
  | { readonly kind: 'count'; readonly count: number }
  | { readonly kind: 'text'; readonly text: string }

export interface Part {
  readonly name: string
  /** Almanac wood id. */
  readonly wood: string
  readonly quantity: number
  /**
   * Sizes to which it is cut and planed out of the plank, before later allowances (flattening, jointing, trimming) come off
   * again; length is along the grain. What planing the rough plank takes (`planeFaceNm`) is not in it. Whole nanometres.
   */
  readonly rough: PartSize
  readonly finished: PartSize
  /**
   * How much of the finished size is wood of its own, for the weight: mitres are cut away, and where parts reach into each other
   * the overlap counts once. Absent: all of it.
   */
  readonly solidShare?: number
  /** How the rough size comes of the finished one: what is allowed for at each side. Every construction says it. */
  readonly why?: string
  readonly note?: string
  /** Key of the step in which it is milled out of rough boards; absent: the first step of its lot. */
  readonly milledIn?: string
}

export interface PartSize {
  readonly lengthNm: number
  readonly widthNm: number
  readonly thicknessNm: number
}
