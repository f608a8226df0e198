import type { CureClock, NewWork } from '../../core/planning/index.ts'
import type { Result } from '../../core/problems.ts'
import type { OpenShop } from '../open-shop.ts'
import { forecastOf } from '../planner/forecast.ts'
import { replications } from '../planner/odds-view.ts'
import type { PlanAnswer, PlanningRequest, QuoteAnswer } from '../planner/planning-request.ts'

/**
 * How much is worked out: the dates alone, at once, while somebody types; with their odds; with what more hours or clamps
 * would buy besides.
 */
export type QuoteAsked = 'dates' | 'odds' | 'all-offers'

/** Work that is asked for, and the clocks of its glue and finish. */
export interface AskedWork {
  readonly newWork: NewWork
  readonly clocks: readonly CureClock[]
}

interface LastOdds {
  readonly work: string
  readonly answer: Promise<Result<QuoteAnswer>>
}

/** The last odds asked for in each plan: who takes what has just been quoted does not wait for the same odds again. */
const lastOdds = new WeakMap<PlanAnswer, Partial<Record<'odds' | 'all-offers', LastOdds>>>()

/** Quotes work in the plan as it stands at this moment. A newer question about dates takes the place of one that still waits. */
export async function quoteWork(shop: OpenShop, work: AskedWork, asked: QuoteAsked): Promise<Result<QuoteAnswer>> {
  const answer = ask(shop, work, asked, (request) => shop.planner.ask(`quote/${asked}`, request))
  if (asked !== 'dates') keepOdds(shop, work, asked, answer)
  return answer
}

/** What an inquiry would be quoted now: nothing that is typed meanwhile takes the place of this question. */
export async function quoteInquiry(
  shop: OpenShop,
  work: AskedWork,
  commissionId: string,
): Promise<Result<QuoteAnswer>> {
  const topic = `inquiry/${commissionId}`
  const answer = ask(shop, work, 'odds', (request) => shop.planner.ask(topic, request, 'has-this-answer'))
  keepOdds(shop, work, 'odds', answer)
  return answer
}

function keepOdds(
  { planned }: OpenShop,
  work: AskedWork,
  asked: 'odds' | 'all-offers',
  answer: Promise<Result<QuoteAnswer>>,
): void {
  if (planned !== null) lastOdds.set(planned, { ...lastOdds.get(planned), [asked]: { work: keyOf(work), answer } })
}

/** The odds of work that is being taken: nothing that is typed meanwhile takes the place of this question. */
export async function quoteToTake(
  shop: OpenShop,
  work: AskedWork,
  asked: 'odds' | 'all-offers',
): Promise<Result<QuoteAnswer>> {
  const last = shop.planned === null ? undefined : lastOdds.get(shop.planned)?.[asked]
  if (last?.work === keyOf(work)) {
    const known = await last.answer
    if (known.ok) return known
  }
  const topic = `take/${work.newWork.commission.id}`
  return ask(shop, work, asked, (request) => shop.planner.ask(topic, request))
}

type QuoteRequest = Extract<PlanningRequest, { readonly kind: 'quote' }>

const ask = async (
  shop: OpenShop,
  work: AskedWork,
  asked: QuoteAsked,
  put: (request: QuoteRequest) => Promise<Result<QuoteAnswer>>,
): Promise<Result<QuoteAnswer>> =>
  put({
    kind: 'quote',
    ...work,
    odds: asked === 'dates' ? null : { forecast: await forecastOf(shop), replications },
    withMore: asked === 'all-offers',
    wording: shop.moment().wording,
  })

/** Who it is for changes no date. */
const keyOf = ({ newWork }: AskedWork): string =>
  JSON.stringify({
    ...newWork,
    commission: { ...newWork.commission, name: '' },
    steps: newWork.steps.map((step) => ({ ...step, pieceName: '' })),
  })
