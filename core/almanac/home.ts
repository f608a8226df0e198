import { HOMES, type HomeAir } from '../wood/seasons.ts'
import { OWN } from './fact.ts'

/** Which of the known kinds of home these figures are, and where they come from; `own`: the maker's own figures. */
export function homeOf(home: HomeAir): { readonly kind: string; readonly source: string } {
  const known = Object.entries(HOMES).find(([, kind]) =>
    (['driest', 'dampest'] as const).every(
      (end) => kind[end].celsius === home[end].celsius && kind[end].rh === home[end].rh,
    ),
  )
  return known === undefined ? { kind: 'own', source: OWN } : { kind: known[0], source: known[1].source }
}
