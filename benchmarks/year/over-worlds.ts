import type { Calibration } from './measures/calibration.ts'
import type { DoorAnswer } from './report.ts'

/** How far one policy's three days were kept more (or less) often than was said, in points, over all worlds and in the worst. */
export interface OverWorlds {
  readonly policy: string
  readonly door: DoorAnswer['door']
  /** Kept minus stated at 1 in 2, 4 in 5, 19 in 20, every order counting the same. */
  readonly points: readonly [number, number, number]
  /** The world that is farthest off at 4 in 5. */
  readonly worst: { readonly world: string; readonly points: number }
}

export function overWorlds(answers: readonly DoorAnswer[]): readonly OverWorlds[] {
  const said = answers.flatMap(({ world, door, policies }) =>
    policies.flatMap(({ policy, measures: { won, calibration } }) =>
      calibration === null ? [] : [{ world, door, policy, won, ...offBy(calibration) }],
    ),
  )
  return [...Map.groupBy(said, ({ door, policy }) => `${door}/${policy}`).values()].map((rows) => {
    const orders = rows.reduce((sum, { won }) => sum + won, 0)
    const points = (level: 0 | 1 | 2): number =>
      (100 * rows.reduce((sum, { won, off }) => sum + won * off[level], 0)) / orders
    const off = rows.map(({ world, off }) => ({ world, points: 100 * off[1] }))
    return {
      policy: rows[0]!.policy,
      door: rows[0]!.door,
      points: [points(0), points(1), points(2)],
      worst: off.reduce((worst, each) => (Math.abs(each.points) > Math.abs(worst.points) ? each : worst)),
    }
  })
}

const offBy = ({ keptAt, statedAt }: Calibration): { readonly off: readonly [number, number, number] } => ({
  off: [keptAt[0] - statedAt[0], keptAt[1] - statedAt[1], keptAt[2] - statedAt[2]],
})

export function printedOverWorlds(rows: readonly OverWorlds[]): string {
  const signed = (points: number): string => `${points < 0 ? '' : '+'}${points.toFixed(1)}`
  return [
    'Over all worlds: kept minus stated in points at 1 in 2, 4 in 5, 19 in 20; the worst world at 4 in 5',
    ...rows.map(
      ({ policy, door, points, worst }) =>
        `${policy} (${door}): ${points.map(signed).join(', ')}; ${worst.world} ${signed(worst.points)}`,
    ),
  ].join('\n')
}
