/** Worst first; a step shows at most two of them. Ids of core/cautions. */
const WORST_FIRST: readonly string[] = [
  'rag_fire',
  'spray',
  'kickback',
  'planer_end_grain',
  'saw',
  'exotherm',
  'isocyanate',
  'epoxy_skin',
  'catalysed',
  'nut',
  'small_parts',
  'food_open_film',
  'food_contact',
  'sanding_dust_fire',
  'hot_glue_pot',
  'glue_mist_ca',
  'vapour',
  'dust_lung',
  'dust_allergy',
  'noise',
  'lift',
  'handover',
]

/** The two worst of the cautions of a step; unknown ones count least. */
export function worstTwo(cautions: readonly string[]): readonly string[] {
  const rank = (id: string): number => {
    const position = WORST_FIRST.indexOf(id)
    return position === -1 ? WORST_FIRST.length : position
  }
  return [...new Set(cautions)].toSorted((a, b) => rank(a) - rank(b)).slice(0, 2)
}
