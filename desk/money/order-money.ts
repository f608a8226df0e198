import type { Commission } from '../../core/book/book.ts'
import { keptByUniformCode, keptWhenCalledOff } from '../../core/money/deposit.ts'
import { moneyStanding, paidIn, type MoneyEntry, type MoneyStanding, type MoneyTerms } from '../../core/money/ledger.ts'
import { laborFor } from '../../core/money/price.ts'
import { taxed, type Taxed } from '../../core/money/sales-tax.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import type { MoneyView } from './money-view.ts'
import type { Moment } from '../moment.ts'
import { taxRules } from './price-of-work.ts'
import { spentOn } from './spent.ts'

/** Lines, tax and total of an order; null without a price. */
export function billOf({ priceMinor, extraLines, untaxedWhy }: Commission, { money }: Almanac): Taxed | null {
  if (priceMinor === null) return null
  const isTaxed = untaxedWhy === ''
  return taxed(
    [
      { minor: priceMinor, taxed: isTaxed },
      ...extraLines.map(({ minor, taxed: each }) => ({ minor, taxed: each && isTaxed })),
    ],
    taxRules(money),
  )
}

export function moneyView(commission: Commission, entries: readonly MoneyEntry[], moment: Moment): MoneyView {
  const gone = new Set(entries.flatMap(({ takesBack }) => takesBack ?? []))
  return {
    bill: billOf(commission, moment.almanac),
    depositAskedMinor: commission.depositMinor,
    standing: moneyStandingOf(commission, entries, moment),
    entries: entries.map((entry) => ({ ...entry, takenBack: gone.has(entry.id) })),
    kept: keptOf(commission, entries, moment),
  }
}

/** What may be kept if the order is called off, or was: as typed, else what was bought for it and hours worked. Null: nothing was paid. */
function keptOf(commission: Commission, entries: readonly MoneyEntry[], moment: Moment): MoneyView['kept'] {
  const paid = paidIn(entries)
  if (paid <= 0) return null
  const spent = spentOn(commission, moment)
  const boughtMinor = spent.woodMinor + spent.suppliesMinor + spent.uncutMinor
  const laborMinor = laborFor(workedOn(commission, moment), moment.almanac.money.payPerHourMinor ?? 0)
  const proposed = keptWhenCalledOff(paid, { boughtMinor, laborMinor }).keptMinor
  const keptMinor = Math.min(paid, commission.keptMinor ?? proposed)
  return {
    ...{ proposedMinor: proposed, isTyped: commission.keptMinor !== null },
    ...{ keptMinor, backMinor: paid - keptMinor },
    ...{ laborMinor, spent },
    uniformCodeMinor: keptByUniformCode(commission.priceMinor ?? 0, paid),
  }
}

/** Where the money of an order stands. */
export function moneyStandingOf(commission: Commission, entries: readonly MoneyEntry[], moment: Moment): MoneyStanding {
  const stage = stageOf(commission, moment)
  const terms: MoneyTerms = {
    totalMinor: billOf(commission, moment.almanac)?.totalMinor ?? null,
    depositAskedMinor: commission.depositMinor,
    stage,
    keptMinor: stage === 'called-off' ? (keptOf(commission, entries, moment)?.keptMinor ?? 0) : 0,
  }
  return moneyStanding(terms, entries)
}

function stageOf(commission: Commission, moment: Moment): MoneyTerms['stage'] {
  if (commission.standing === 'asked-about') return 'inquiry'
  if (commission.standing !== 'agreed') return commission.standing
  const steps = moment.stepsOf(commission.id)
  return steps.length > 0 && steps.every(({ id }) => moment.progress(id).kind === 'done') ? 'ready' : 'agreed'
}

const workedOn = ({ id }: Commission, moment: Moment): number =>
  moment.stepsOf(id).reduce((sum, step) => {
    const progress = moment.progress(step.id)
    return sum + (progress.kind === 'to-do' ? 0 : Math.round(workedMinutes(progress, moment.now)))
  }, 0)
