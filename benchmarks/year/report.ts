import { daysPromised, judged, mean, won } from './measures/judged.ts'
import type { Measures } from './measures/measures.ts'
import { pairedRatio, type Paired } from './measures/paired.ts'
import type { Outcome } from './lived.ts'
import { RULES } from './policies/rules.ts'
import { atEqualShare, type Ran, type Town } from './run.ts'

export interface DoorAnswer {
  readonly world: string
  readonly door: 'leave' | 'open'
  readonly seeds: readonly number[]
  readonly policies: readonly { readonly policy: string; readonly measures: Measures }[]
  readonly atEqualShare: readonly Compared[]
}

/** Ours beside a rule that keeps the same share. */
export interface Compared {
  readonly rule: string
  readonly shiftDays: number
  readonly measures: Measures
  /** Days promised, orders and hours of ours over those of the rule, shop by shop. */
  readonly daysPromised: Paired
  readonly orders: Paired
  readonly hours: Paired
}

export const answerOf = (
  world: string,
  door: DoorAnswer['door'],
  seeds: readonly number[],
  ran: readonly Ran[],
  compared: readonly Compared[],
): DoorAnswer => ({
  ...{ world, door, seeds },
  policies: ran.map(({ policy, measures }) => ({ policy, measures })),
  atEqualShare: compared,
})

/** The first policy, which is ours, beside every rule that ran. */
export function comparedWithRules(ran: readonly Ran[], towns: readonly Town[]): readonly Compared[] {
  const ours = ran.find(({ policy }) => policy === 'ours')
  if (ours === undefined) return []
  return RULES.filter(({ name }) => ran.some(({ policy }) => policy === name)).map(({ name }) => {
    const { outcomes, measures, shiftDays } = atEqualShare(name, ours.measures.kept, towns)
    const ratio = (of: (outcomes: readonly Outcome[]) => number): Paired =>
      pairedRatio(ours.outcomes.map(of), outcomes.map(of))
    return {
      ...{ rule: name, shiftDays, measures },
      daysPromised: ratio((shop) => mean(judged(shop).map(daysPromised))),
      orders: ratio((shop) => won(shop).length),
      hours: ratio((shop) => won(shop).reduce((sum, { handsOnMin }) => sum + handsOnMin, 0)),
    }
  })
}

const fixed = (value: number | null, digits: number): string =>
  value === null || Number.isNaN(value) ? '-' : value.toFixed(digits)

export function printed({ world, door, seeds, policies, atEqualShare: compared }: DoorAnswer): string {
  const shops = `${seeds.length} shop${seeds.length === 1 ? '' : 's'}`
  const title = `World ${world}, ${shops}, ${door === 'open' ? 'everybody stays' : 'customers leave when the day is too late'}`
  const lines = [
    title,
    '',
    row(
      'policy',
      'kept',
      '1 in 2',
      '4 in 5',
      '19 in 20',
      'Brier',
      'pinball',
      'days',
      'of all',
      'late',
      '95 %',
      'most',
      'early',
      'orders',
      'hours',
      'pushed',
      'first 10',
      '1 in 2/plan',
    ),
    ...policies.map(({ policy, measures: m }) => {
      const at = (level: 0 | 1 | 2): string =>
        m.calibration === null
          ? '-'
          : `${fixed(m.calibration.keptAt[level], 2)}/${fixed(m.calibration.statedAt[level], 2)}`
      const pinball = m.calibration?.pinball.map((loss) => fixed(loss, 1)).join('/') ?? '-'
      return row(
        policy,
        ...[fixed(m.kept, 3), at(0), at(1), at(2), fixed(m.calibration?.brier ?? null, 3), pinball],
        ...[fixed(m.promised.mean, 1), fixed(m.promisedToAll.mean, 1)],
        ...[fixed(m.late.mean, 2), fixed(m.late.ninetyFiveOfLate, 1), fixed(m.late.most, 1), fixed(m.early, 1)],
        ...[String(m.won), fixed(m.hoursWon, 0), fixed(m.pushed, 0), fixed(m.firstTen, 2), fixed(m.halfBeyondPlan, 2)],
      )
    }),
  ]
  const bins = policies.find(({ policy }) => policy === 'ours')?.measures.calibration
  if (bins !== undefined && bins !== null) {
    const filled = bins.bins.filter(({ count }) => count > 0)
    const binTexts = filled.map(({ count, stated, kept }) => `${fixed(stated, 2)}: ${fixed(kept, 2)} (${count})`)
    lines.push('', `ours, stated chance: kept (promises): ${binTexts.join(', ')}`)
    lines.push(`ours, ends by tenths of what was said: ${bins.pit.map((share) => fixed(share, 2)).join(' ')}`)
  }
  if (compared.length > 0) {
    lines.push(
      '',
      'Rules moved until they keep the same share as ours; ours over the rule, shop by shop (95 % interval from shops)',
    )
    lines.push(row('rule', 'kept', 'moved', 'of all', 'orders', 'hours', 'days', 'orders', 'hours'))
    for (const { rule, shiftDays, measures, daysPromised: days, orders, hours } of compared) {
      const ratio = ({ ratio: middle, within }: Paired): string => `${fixed(middle, 3)} x/${fixed(within, 2)}`
      lines.push(
        row(
          rule,
          ...[fixed(measures.kept, 3), fixed(shiftDays, 1), fixed(measures.promisedToAll.mean, 1)],
          ...[String(measures.won), fixed(measures.hoursWon, 0), ratio(days), ratio(orders), ratio(hours)],
        ),
      )
    }
  }
  return `${lines.join('\n')}\n`
}

const row = (name: string, ...cells: readonly string[]): string =>
  `${name.padEnd(24)}${cells.map((cell) => ` ${cell.padStart(9)}`).join('')}`
