/**
 * What the source codes of the species table mean. All figures were read from transcriptions or page copies of: Forest Products
 * Laboratory, Wood Handbook - Wood as an Engineering Material, FPL-GTR-190 (2010) and FPL-GTR-282 (2021), USDA Forest Service,
 * Madison WI; not from the printed book. Natural variation between boards of one species is large: each figure is a species mean.
 */
export const SPECIES_SOURCES: Readonly<Record<string, string>> = {
  X: 'published — Wood Handbook (2010), Table 5-3a or 5-5',
  M: 'from memory — botanical name, not looked up',
  'T13-5': 'published — Wood Handbook (2010), Table 13-5, coefficients for dimensional change, row of the species',
  'T13-5g': 'published — Wood Handbook (2010), Table 13-5, the group row named in the note',
  D30: 'derived — from the shrinkage figures, C = S/(3000 - 20 S); not published for this wood',
  'D30+NWFA':
    'derived — from the shrinkage figures, C = S/(3000 - 20 S); the tangential value also in the flooring trade’s table (NWFA A200)',
  NWFA: 'published — National Wood Flooring Association, technical publication A200, tangential value only (as quoted on flooring sites)',
  'T4-3': 'published — Wood Handbook, Table 4-3',
  'T4-3x2': 'published — Wood Handbook, Table 4-3 (two transcriptions agree)',
  'T4-3p': 'published — a secondary page that attributes the value to the Wood Handbook, Table 4-3',
  'T4-4': 'published — Wood Handbook, Table 4-4',
  'D13-5': 'derived — back from Table 13-5, S = 3000 C/(1 + 20 C)',
  'D13-5(22)': 'derived — back from Table 13-5 with 22 % fibre saturation, S = 2200 C/(1 + 12 C)',
  TRADE: 'published — wood-trade reference pages, low confidence',
  'T5-3': 'published — Wood Handbook, Table 5-3 (12 % moisture)',
  'T5-3x2': 'published — Wood Handbook, Tables 5-3a and 5-3b (12 % moisture) agree',
  'T5-5': 'published — Wood Handbook, Table 5-5',
  'T5-5+4-11': 'derived — Wood Handbook, basic gravity of Table 5-5 and shrinkage by Eq. 4-11',
  'T5-5+4-13': 'derived — Wood Handbook, basic gravity of Table 5-5 by Eq. 4-13 (too high for dense tropical woods)',
  'TRADE+4-11': 'derived — wood-trade reference pages by Wood Handbook Eq. 4-11, low confidence',
}
