import type { Consumed, Part } from '../../core/constructions/construction.ts'
import type { LengthUnits } from '../../core/lengths/length.ts'
import { type Result, ok } from '../../core/problems.ts'
import { stillToPutOn } from '../../core/timber/consumables-needed.ts'
import type { CuttingPlan, CuttingRules, PartToCut } from '../../core/timber/cutting-model.ts'
import { cuttingRules } from '../../core/timber/cutting-rules.ts'
import { type LotToCut, notMilled, partsToCut } from '../../core/timber/parts-to-cut.ts'
import { yardSizes } from '../../core/timber/yard.ts'
import type { Board, PartCut } from '../../db/boards.ts'
import { builtAt } from '../built-at.ts'
import { lotBuild } from '../lot-build.ts'
import type { Lot, Moment } from '../moment.ts'
import { onceAMoment } from '../once-a-moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { boardToCut } from './board-to-cut.ts'

/** A lot with what is still to be cut for it. */
export interface LotWork extends LotToCut {
  readonly lot: Lot
  /** Instant at which its milling is planned to begin; null: not planned. */
  readonly plannedAt: number | null
  /** Its milling has been begun. */
  readonly begun: boolean
  /** Glue and finish that it still takes. */
  readonly consumed: readonly Consumed[]
}

/** Equal parts to cut, with the lot they are for. */
export interface PartWork {
  readonly cut: PartToCut
  readonly part: Part
  readonly work: LotWork
}

export interface TimberWork {
  readonly moment: Moment
  readonly rules: CuttingRules
  readonly boards: readonly Board[]
  readonly lots: readonly LotWork[]
  /** By their ids, which are those in the plan. */
  readonly parts: ReadonlyMap<string, PartWork>
  /** What is not counted, and why, as sentences. */
  readonly leftOut: readonly string[]
}

/** The same with the plan of which board gives which part. */
export interface CuttingWork extends TimberWork {
  readonly plan: CuttingPlan
}

const ofAgreed = onceAMoment((moment) => workAt(moment, false))
const withAskedAbout = onceAMoment((moment) => workAt(moment, true))

/** Looks at all open commissions and the boards on hand together. */
export const timberWork = (moment: Moment, askedAbout: boolean): TimberWork =>
  (askedAbout ? withAskedAbout : ofAgreed)(moment)

function workAt(moment: Moment, askedAbout: boolean): TimberWork {
  const { almanac, stock } = moment
  const { lots, leftOut } = lotsToCut(moment, stock.cut, askedAbout)
  return {
    ...{ moment, lots, leftOut, boards: stock.boards },
    rules: cuttingRules(almanac.allowances),
    parts: partsById(lots, partsToCut(lots, almanac.shop.units)),
  }
}

/** Has the cutting planned on the worker thread, which takes seconds in a long book. */
export async function cuttingWork(shop: OpenShop, askedAbout: boolean): Promise<Result<CuttingWork>> {
  const work = timberWork(shop.moment(), askedAbout)
  const plan = await planned(shop, work)
  return plan.ok ? ok({ ...work, plan: plan.value }) : plan
}

/** The same question is not planned twice: screens ask again at every change in the shop, several of them at once. */
const lastPlans = new WeakMap<OpenShop, Map<string, Promise<Result<CuttingPlan>>>>()

async function planned(shop: OpenShop, { parts, boards, rules, moment }: TimberWork): Promise<Result<CuttingPlan>> {
  const request = {
    kind: 'cutting' as const,
    parts: [...parts.values()].map(({ cut }) => cut),
    boards: boards.map(boardToCut),
    rules,
    options: { yard: yardSizes(moment.almanac.yard) },
  }
  const key = JSON.stringify(request)
  const known = lastPlans.get(shop) ?? new Map<string, Promise<Result<CuttingPlan>>>()
  // A topic of its own for each question: none takes the place of another.
  const plan = known.get(key) ?? shop.planner.ask(`cutting ${key}`, request)
  known.delete(key)
  lastPlans.set(shop, new Map([...[...known].slice(-1), [key, plan]]))
  const answer = await plan
  // It was not planned: it may be asked for again.
  if (!answer.ok && lastPlans.get(shop)?.get(key) === plan) lastPlans.get(shop)?.delete(key)
  return answer
}

function lotsToCut(
  moment: Moment,
  cut: readonly PartCut[],
  askedAbout: boolean,
): { readonly lots: readonly LotWork[]; readonly leftOut: readonly string[] } {
  const cutOf = Map.groupBy(cut, (part) => lotId(part.pieceId, part.lot))
  const leftOut = new Set<string>()
  const lots = moment.lots.flatMap((lot): LotWork[] => {
    const { piece, commission, steps, label } = lot
    if (commission.standing === 'asked-about' && !askedAbout) return []
    if (commission.onHoldUntil !== null) {
      leftOut.add(`No. ${commission.number} is on hold: its parts are left out.`)
      return []
    }
    const build = lotBuild(piece, label.count, moment.almanac, builtAt(steps, moment), commission.home)
    if (build?.ok !== true) {
      leftOut.add(`No. ${commission.number}, ${piece.title}: its parts are not known. Look at the order.`)
      return []
    }
    const step = (key: string) => steps.find((each) => each.key === key)
    const kindOf = (key: string) => moment.progress(step(key)?.id ?? '').kind
    const broughtAlong = commission.lumber.from === 'customer'
    if (broughtAlong) leftOut.add(`No. ${commission.number} is of the customer’s own lumber: its parts are left out.`)
    const parts = broughtAlong ? [] : notMilled(build.value.parts, steps, (key) => kindOf(key) === 'done')
    const milling = [...new Set(parts.map((part) => part.milledIn ?? steps[0]?.key ?? ''))]
    const starts = milling.flatMap((key) => moment.planned(step(key)?.id ?? '')?.start ?? [])
    const id = lotId(piece.id, lot.lot)
    return [
      {
        ...{ id, lot, parts, cut: cutOf.get(id) ?? [] },
        forPiece: `no. ${commission.number}, ${piece.title}`,
        plannedAt: starts.length === 0 ? null : Math.min(...starts),
        consumed: stillToPutOn(
          build.value.consumed ?? [],
          steps.map(({ id: stepId, key, operation }) => ({
            ...{ key, operation, done: moment.progress(stepId).kind === 'done' },
          })),
        ),
        begun: milling.some((key) => kindOf(key) === 'running' || kindOf(key) === 'paused'),
      },
    ]
  })
  return { lots: lots.toSorted(sooner), leftOut: [...leftOut] }
}

const lotId = (pieceId: string, lot: number): string => `${pieceId}/${lot}`

/** What is milled first comes first. */
const sooner = (a: LotWork, b: LotWork): number =>
  (a.plannedAt ?? Infinity) - (b.plannedAt ?? Infinity) || a.lot.commission.number - b.lot.commission.number || 0

const partsById = (lots: readonly LotWork[], wanted: readonly PartToCut[]): ReadonlyMap<string, PartWork> => {
  const cuts = new Map(wanted.map((part) => [part.id, part]))
  return new Map(
    lots.flatMap((work) =>
      work.parts.flatMap((part, position) => {
        const cut = cuts.get(`${work.id}.${position}`)
        return cut === undefined ? [] : [[cut.id, { cut, part, work }] as const]
      }),
    ),
  )
}

export const lengthUnitsOf = ({ moment }: TimberWork): LengthUnits => moment.almanac.shop.units
