import type { Units } from '../constructions/construction.ts'
import type { OwnConstruction } from '../constructions/own/own-construction.ts'
import type { Allowances, StandardTime } from '../constructions/shop-facts.ts'
import type { LengthNm } from '../lengths/length.ts'
import type { Currency } from '../money/currency.ts'
import type { IsoWeekday } from '../time/local-day.ts'
import type { CalendarDay, WeeklyHours } from '../time/shop-calendar.ts'
import type { WoodWaste } from '../timber/waste.ts'
import type { PlaceKind } from '../waits/drying-place.ts'
import type { Product } from '../waits/product.ts'
import type { HomeAir } from '../wood/seasons.ts'
import type { FinishSchedule } from './finish-schedule.ts'
import type { OwnWait } from './own-wait.ts'
import type { SessionFacts } from './working-sessions.ts'
import type { TimeChoices } from './times-in-use.ts'
import type { MoneyFacts } from './money-facts.ts'

/** The facts of one shop as plain JSON data. Everything in it may be edited; `defaults.ts` is what a new shop starts with. */
export interface Almanac {
  readonly shop: Shop
  readonly air: ShopAir
  /** The customer's home through the year, where pieces will live. */
  readonly home: HomeAir
  readonly makers: readonly Maker[]
  readonly specialDays: readonly SpecialDay[]
  readonly stations: readonly Station[]
  /** Ids of machines that are counted: one job at a time; see `work-kinds.ts`. */
  readonly machines: readonly string[]
  /** Kinds of work that a maker does not do, by the maker's id. */
  readonly leftToOthers: Readonly<Record<string, readonly string[]>>
  /** What of a session is no work on orders. */
  readonly session: SessionFacts
  readonly glues: readonly ProductOnShelf[]
  readonly finishes: readonly ProductOnShelf[]
  /** The woods the shop offers. */
  readonly woods: readonly WoodOnOffer[]
  readonly yard: Yard
  /** What the yard asks for a wood, by its id; woods without an entry have no price yet. */
  readonly woodPrices: Readonly<Record<string, WoodPrice>>
  /** Woods that lose another share than `yard.waste`, by their id. */
  readonly woodWaste: Readonly<Record<string, WoodWaste>>
  /** What prices, deposits, taxes and papers go by. */
  readonly money: MoneyFacts
  /** Of the maker's own, offered after the built-in ones. */
  readonly constructions: readonly OwnConstruction[]
  readonly standardTimes: readonly StandardTime[]
  /** What the maker decided about the shop's own times. */
  readonly times: TimeChoices
  readonly allowances: Allowances
  /** What one clamp presses with when it is tightened by hand, newtons. */
  readonly clampForceN: number
  /** ISO weekday of the trip to the yard. */
  readonly buyingDay: IsoWeekday
  /** Days that lumber rests in the shop before the first cut. */
  readonly restDays: number
  /** When the boards on hand tell whether an order's wood is there: a shop that lists none keeps its wood in its head. */
  readonly countLumber: CountLumber
  /** Which end of a published range is planned with, where sources of one class of glue or finish disagree. */
  readonly goBy: GoBy
  /** Whether what came true of past promises moves the chances of new ones. */
  readonly countRecord: CountRecord
  /** Where pieces may dry beside the shop. */
  readonly places: readonly DryingPlace[]
  /** Finishes of several coats in order, offered beside those on the shelf. */
  readonly finishSchedules: readonly FinishSchedule[]
  /** What the maker decided about waits that take another time here. */
  readonly ownWaits: readonly OwnWait[]
  /** Wood and finish that new pieces begin with; empty: as each construction has it. */
  readonly usual: UsualChoices
  readonly firstStart: FirstStart
  /** Years after the last order in which a customer is kept; then the customer is listed as due to be erased. 0: no limit. */
  readonly keepCustomersYears: number
  /** Milled stock is glued up within so many minutes, before it moves. */
  readonly glueUpWithinMin: number
}

export type CountRecord = 'yes' | 'no'

/** Ids of the almanac's woods and finishes. */
export interface UsualChoices {
  readonly wood: string
  readonly finish: string
}

/** How far a new shop has come with its first questions. */
export interface FirstStart {
  /** The questions were answered, or put off. */
  readonly greeted: boolean
  /** The maker said the hours: before that nothing is asserted about them. */
  readonly hoursSaid: boolean
}

export type CountLumber = 'when-listed' | 'always' | 'never'

/** `careful`: the longest published wait and the shortest deadline; `bold`: the other way round. */
export type GoBy = 'careful' | 'usual' | 'bold'

/** A place with air of its own, always the same; what may dry there is in `core/waits/drying-place.ts`. */
export interface DryingPlace {
  readonly id: string
  readonly name: string
  readonly kind: PlaceKind
  readonly celsius: number
  readonly rh: number
  /** How many pieces stand there at once. */
  readonly capacity: number
  /** Minutes to carry a piece there, and as many back. */
  readonly carryMin: number
  /** Plans may count on it where a wait in the shop takes much longer. */
  readonly inPlans: boolean
}

export interface Shop {
  readonly name: string
  /** IANA name: `America/Chicago`. */
  readonly timeZone: string
  /** How sizes are read and written. */
  readonly units: Units
  /** With its decimals as they were when the shop began: amounts in the file count on them. */
  readonly currency: Currency
  /** Air in the shop while somebody works, degrees Celsius. */
  readonly temperatureC: number
  /** Relative humidity of it as a fraction, 0..1. */
  readonly humidityRh: number
}

/** How the shop's air goes on when nobody works. Temperatures in degrees Celsius, humidity as a fraction 0..1. */
export interface ShopAir {
  /** `always`: night and day as while somebody works. `for-work`: left to the season in between. */
  readonly heated: 'always' | 'for-work'
  /** Unheated air in the middle of each month, January first: 12 values each. */
  readonly unheatedC: readonly number[]
  readonly unheatedRh: readonly number[]
  /** Elapsed minutes from the start of work until the room and its wood are warm, and from its end until they are cold again. */
  readonly warmUpMin: number
  readonly coolDownMin: number
}

export interface Maker {
  readonly id: string
  readonly name: string
  readonly weeklyHours: WeeklyHours
  /** How often the maker really gets to the shop when the hours say so, as a fraction: 0 < rate <= 1. Used for the odds of a date, not for the plan. */
  readonly attendance: number
}

export interface SpecialDay extends CalendarDay {
  readonly id: string
  readonly note: string
}

export type StationKind = 'clamps' | 'rack' | 'glue-up-bench' | 'finishing-corner' | 'other'

export interface Station {
  readonly id: string
  readonly name: string
  readonly kind: StationKind
  /** Clamps, places on the rack, or how many pieces can be worked on at once; a whole number >= 1. */
  readonly capacity: number
}

/** A glue or finish on the shelf of this shop; its label's figures win over those of its class. */
export interface ProductOnShelf extends Product {
  readonly id: string
}

export interface WoodOnOffer {
  readonly id: string
  /** As customers are told: "Walnut". */
  readonly name: string
  /** Name in the species table; see core/wood. */
  readonly species: string
}

/** How the yard sells rough boards: thicknesses, widths and lengths, each ascending and none twice. */
export interface Yard {
  readonly thicknessesNm: readonly LengthNm[]
  readonly widthsNm: readonly LengthNm[]
  readonly lengthsNm: readonly LengthNm[]
  /**
   * Share of what is bought that is lost to knots, checks and sapwood nobody has seen yet, 0 <= waste < 1; ends, kerfs and offcuts
   * are in the cutting plan already.
   */
  readonly waste: number
}

/** Minor units for so much rough wood, as it was said. */
export interface WoodPrice {
  readonly minor: number
  readonly per: 'board-foot' | 'cubic-metre'
}
