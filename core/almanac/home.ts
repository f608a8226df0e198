import type { Units } from '../constructions/construction.ts'
import { failed, ok, problem, within, type Problem, type Result } from '../problems.ts'
import { equilibriumMoisture } from '../wood/moisture.ts'
import { HOMES, type Air, type HomeAir } from '../wood/seasons.ts'
import { OWN } from './fact.ts'
import { readFraction, readTemperature, sameOr, writeFraction, writeTemperature } from './read-figures.ts'

/** What the two ends of a home's year are called. */
export const HOME_ENDS = { driest: 'Heated winter', dampest: 'Humid summer' } as const satisfies Record<
  keyof HomeAir,
  string
>

/** The kinds of home that are known, for choosing. */
export const homeKinds: readonly { readonly value: string; readonly label: string }[] = Object.entries(HOMES).map(
  ([value, { name }]) => ({ value, label: name }),
)

/** Which of the known kinds of home these figures are, and where they come from; `own`: the maker's own figures. */
export function homeOf(home: HomeAir): { readonly kind: string; readonly source: string } {
  const known = Object.entries(HOMES).find(([, kind]) =>
    (['driest', 'dampest'] as const).every(
      (end) => kind[end].celsius === home[end].celsius && kind[end].rh === home[end].rh,
    ),
  )
  return known === undefined ? { kind: 'own', source: OWN } : { kind: known[0], source: known[1].source }
}

/** The home of that kind; null where there is none of that name. */
export const homeOfKind = (kind: string): HomeAir | null => {
  const known = Object.entries(HOMES).find(([name]) => name === kind)?.[1]
  return known === undefined ? null : { driest: known.driest, dampest: known.dampest }
}

/** The damp end must leave wood at least as moist as the dry one: else growing and shrinking change places. */
export function homeProblem(home: HomeAir): Problem | null {
  const [dry, damp] = [home.driest, home.dampest].map(({ celsius, rh }) =>
    equilibriumMoisture(celsius, Math.min(rh, 0.98)),
  )
  return (dry ?? 0) <= (damp ?? 0)
    ? null
    : problem(
        'home-turned',
        'The customer’s home: wood would be drier in the humid summer than in the heated winter. Change the other figure first, or choose a kind of home.',
      )
}

/** The home of one order as its form holds it, in the maker's units; an empty `kind` is the almanac's home, `own` the figures. */
export interface TypedHome {
  readonly kind: string
  readonly driest: TypedAir
  readonly dampest: TypedAir
}

interface TypedAir {
  readonly temperature: string
  readonly humidity: string
}

const NOTHING: TypedAir = { temperature: '', humidity: '' }

/** As the form begins: the almanac's home. */
export const ALMANAC_HOME: TypedHome = { kind: '', driest: NOTHING, dampest: NOTHING }

/**
 * Reads the home of one order; null: the almanac's. Every problem names its field: `driest.temperature`.
 * @param now the home that stood in the form before; a figure that is typed as it was shown keeps its exact value
 */
export function readHome(typed: TypedHome, units: Units, now: HomeAir | null = null): Result<HomeAir | null> {
  if (typed.kind === '') return ok(null)
  if (typed.kind !== 'own') {
    const home = homeOfKind(typed.kind)
    return home === null
      ? failed(problem('home', 'Climate at the customer’s: choose one of the list.', 'kind'))
      : ok(home)
  }
  const [driest, dampest] = (['driest', 'dampest'] as const).map((end) =>
    readAir(typed[end], HOME_ENDS[end], units, now?.[end], end),
  ) as [Result<Air>, Result<Air>]
  if (!driest.ok || !dampest.ok)
    return failed(...(driest.ok ? [] : driest.problems), ...(dampest.ok ? [] : dampest.problems))
  const home = { driest: driest.value, dampest: dampest.value }
  const turned = homeProblem(home)
  return turned === null ? ok(home) : failed({ ...turned, field: 'dampest.humidity' })
}

function readAir(typed: TypedAir, end: string, units: Units, now: Air | undefined, field: string): Result<Air> {
  const celsius = sameOr(
    typed.temperature,
    now?.celsius,
    (one) => writeTemperature(one, units),
    `${end}, temperature`,
    (text, label) => readTemperature(text, label, units),
  )
  const rh = sameOr(typed.humidity, now?.rh, writeFraction, `${end}, humidity`, (text, label) =>
    readFraction(text, label, 0.01),
  )
  if (celsius.ok && rh.ok) return ok({ celsius: celsius.value, rh: rh.value })
  return failed(
    ...(celsius.ok ? [] : celsius.problems.map((one) => within(`${field}.temperature`, one))),
    ...(rh.ok ? [] : rh.problems.map((one) => within(`${field}.humidity`, one))),
  )
}

/** The inverse of `readHome`. A kind of home brings its figures with it, so that they may be changed from there. */
export function writeHome(home: HomeAir | null, units: Units): TypedHome {
  if (home === null) return ALMANAC_HOME
  const air = ({ celsius, rh }: Air): TypedAir => ({
    temperature: writeTemperature(celsius, units),
    humidity: writeFraction(rh),
  })
  return { kind: homeOf(home).kind, driest: air(home.driest), dampest: air(home.dampest) }
}

/** The home in one line: "Desert, or strong heating: 72 F, 15 % to 77 F, 40 %". */
export function sayHome(home: HomeAir, units: Units): string {
  const say = ({ celsius, rh }: Air): string => `${writeTemperature(celsius, units)}, ${writeFraction(rh)}`
  const kind = homeKinds.find(({ value }) => value === homeOf(home).kind)
  return `${kind === undefined ? '' : `${kind.label}: `}${say(home.driest)} to ${say(home.dampest)}`
}
