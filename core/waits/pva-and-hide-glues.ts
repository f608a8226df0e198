import { COLD_SHOP, GIVE_THE_GLUE_TIME, WINTER_GLUING } from './citations.ts'
import { memory, practice, usual } from './figure.ts'
import { coldest, glueClocks, type GlueClass, NO_RULE, STRESSED_A_DAY } from './glue-class.ts'
import type { TemperatureResponse } from './temperature-response.ts'
import { PVA_AND_HIDE_FIGURES as F } from './pva-and-hide-figures.ts'

const STRONG_IN_A_DAY = practice([24, 24, null], 'h', 'room temperature')

/** Grams per square metre of one joint; 35-50 lb per 1,000 square feet. */
const PVA_SPREAD = {
  min: 170,
  max: 250,
  source: 'published — Franklin, edge and face gluing with PVA, as quoted in Woodworking Network and Wood Industry',
}

const PVA_RESPONSE: TemperatureResponse = {
  kind: 'doubling',
  referenceC: 21,
  intervalC: usual(F.pva_type2.doubling_interval),
  fastestC: 21,
  source: `published — ${WINTER_GLUING} (10F); the lenient rule of ${GIVE_THE_GLUE_TIME} is 15F (8.3C)`,
}

/** Using Glue and Epoxy in a Cold Shop: below its chalk point the film does not form, and warmth later does not mend it. */
const CHALKS = {
  how: 'dries to a chalky line without strength',
  source: `published — ${COLD_SHOP}`,
}

const FREEZES = { belowC: 0, how: 'freezes before it has set', source: 'from memory — not looked up' }

/** PVA and hide glue: what sets as its water leaves. */
export const PVA_AND_HIDE_GLUES: readonly GlueClass[] = [
  {
    id: 'pva_type2',
    name: 'PVA glue, water-resistant (Type II)',
    note: 'The yellow glue of most shops: boards, panels, frames inside the house.',
    clocks: glueClocks({
      open: F.pva_type2.open_assembly,
      assembly: F.pva_type2.total_assembly,
      clampsOff: F.pva_type2.clamp_unstressed,
      clampsOffStressed: F.pva_type2.clamp_stressed,
      mayMachine: F.pva_type2.machine_after_clamp,
      fullStrength: F.pva_type2.full_cure,
    }),
    potLife: null,
    coldestC: coldest(F.pva_type2.min_temp),
    response: PVA_RESPONSE,
    setsInTheCold: false,
    spoils: CHALKS,
    spread: PVA_SPREAD,
    waterBorne: true,
    water: 'resists',
    contactOnly: false,
    cautions: [],
  },
  {
    id: 'pva_type1',
    name: 'PVA glue, waterproof (Type I)',
    note: 'Long open time and more water resistance: cutting boards, trays, things that get wet. Not for under water.',
    clocks: glueClocks({
      open: F.pva_type1.open_assembly,
      assembly: F.pva_type1.total_assembly,
      clampsOff: F.pva_type1.clamp_unstressed,
      clampsOffStressed: F.pva_type1.clamp_stressed,
      mayMachine: F.pva_type1.machine_after_clamp,
      fullStrength: F.pva_type1.full_cure,
    }),
    potLife: null,
    coldestC: coldest(F.pva_type1.min_temp),
    response: PVA_RESPONSE,
    setsInTheCold: false,
    spoils: CHALKS,
    spread: PVA_SPREAD,
    waterBorne: true,
    water: 'waterproof',
    contactOnly: false,
    cautions: [],
  },
  {
    id: 'pva_white',
    name: 'PVA glue, white',
    note: 'For dry places inside.',
    clocks: glueClocks({
      open: F.pva_white.open_assembly,
      assembly: practice([10, null, 15], 'min', 'as for yellow PVA glue'),
      clampsOff: F.pva_white.clamp_unstressed,
      clampsOffStressed: STRESSED_A_DAY,
      mayMachine: practice([4, 24, 96], 'h', 'as for yellow PVA glue'),
      fullStrength: STRONG_IN_A_DAY,
    }),
    potLife: null,
    coldestC: coldest(F.pva_white.min_temp),
    response: PVA_RESPONSE,
    setsInTheCold: false,
    spoils: CHALKS,
    spread: PVA_SPREAD,
    waterBorne: true,
    water: 'none',
    contactOnly: false,
    cautions: [],
  },
  {
    id: 'hide_liquid',
    name: 'Hide glue, liquid',
    note: 'Long open time, can be undone with warm water; slower when the air is damp.',
    clocks: glueClocks({
      open: F.hide_liquid.open_assembly,
      assembly: memory([20, 25, 30], 'min', 'working time'),
      clampsOff: F.hide_liquid.clamp_unstressed,
      clampsOffStressed: memory([24, 24, null], 'h', 'joints under stress'),
      mayMachine: practice([24, 24, 96], 'h', 'water-borne glue: as for PVA glue, not sooner than full strength'),
      fullStrength: F.hide_liquid.full_cure,
    }),
    potLife: null,
    coldestC: coldest(F.hide_liquid.min_temp),
    response: NO_RULE,
    setsInTheCold: true,
    spoils: FREEZES,
    spread: null,
    waterBorne: true,
    water: 'none',
    contactOnly: false,
    cautions: [],
  },
  {
    id: 'hide_hot',
    name: 'Hide glue, hot',
    note: 'Gels within a minute or two: warm the parts. A rubbed joint needs no clamps.',
    clocks: glueClocks({
      open: F.hide_hot.open_assembly,
      assembly: F.hide_hot.open_assembly,
      clampsOff: memory([0, 12, 24], 'h', 'rubbed joints need no clamps (published chart); clamped ones overnight'),
      clampsOffStressed: memory([24, 24, null], 'h', 'joints under stress'),
      mayMachine: practice([24, 24, 96], 'h', 'water-borne glue: as for PVA glue, not sooner than full strength'),
      fullStrength: F.hide_hot.full_cure,
    }),
    potLife: null,
    coldestC: coldest(memory([10, 16, 21], 'C', 'warm the parts')),
    response: NO_RULE,
    setsInTheCold: true,
    spoils: null,
    spread: null,
    waterBorne: true,
    water: 'none',
    contactOnly: true,
    cautions: ['hot_glue_pot'],
  },
]
