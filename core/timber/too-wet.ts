/**
 * What is wrong with a moisture reading for gluing up, in a half sentence; null: nothing. Stock for water-borne glue holds 6-8 %, 10 % at most.
 * @param pct percent of ovendry weight
 * @source Franklin International, Product and Application Technical Guide I; 6-10 % of their EPI guide is the outer limit
 */
export const tooWetToGlue = (pct: number): string | null =>
  pct > 10 ? 'too wet to glue up, let it rest to 6-8%' : pct < 6 ? 'very dry, let it rest to 6-8%' : null
