import { CIBA_UREA, COLD_SHOP, GIVE_THE_GLUE_TIME, WINTER_GLUING } from './citations.ts'
import { deadlineClock, waitClock } from './clock.ts'
import { memory, practice, published, usual } from './figure.ts'
import { coldest, glueClocks, type GlueClass } from './glue-class.ts'
import { GLUE_FIGURES as F } from './glue-figures.ts'
import type { TemperatureResponse } from './temperature-response.ts'

const STRESSED_A_DAY = practice([24, 24, null], 'h', 'joints under stress')
const STRONG_IN_A_DAY = practice([24, 24, null], 'h', 'room temperature')
const MACHINE_NEXT_DAY = practice([12, 24, 24], 'h', 'planing, sanding and sawing the day after')

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

const EPOXY_RESPONSE: TemperatureResponse = {
  kind: 'doubling',
  referenceC: 22,
  intervalC: usual(F.epoxy_slow.doubling_interval),
  fastestC: 32,
  source: F.epoxy_slow.doubling_interval.source,
}

const NO_RULE: TemperatureResponse = {
  kind: 'no-rule',
  referenceC: 18,
  deadlineIntervalC: 10,
  source:
    'no rule for this class was found: when cold, the slow end of the range is planned with, when warm, the open time halves every 10 C (our own reading)',
}

/** Using Glue and Epoxy in a Cold Shop: below its chalk point the film does not form, and warmth later does not mend it. */
const CHALKS = {
  how: 'dries to a chalky line without strength',
  source: `published — ${COLD_SHOP}`,
}

const FREEZES = { belowC: 0, how: 'freezes before it has set', source: 'from memory — not looked up' }

/** Working life 1.5 h at 80 F, 0.5 h at 100 F: a third for every 11.1 C, so half for every 7 C. */
const RESORCINOL_RESPONSE: TemperatureResponse = {
  ...NO_RULE,
  kind: 'no-rule',
  deadlineIntervalC: (20 / 1.8) * (Math.LN2 / Math.log(3)),
  source: 'published — resorcinol adhesive sheet, working life 1.5 h at 80 F and 0.5 h at 100 F; waits: no rule found',
}

const UREA_POWDER_RESPONSE: TemperatureResponse = {
  kind: 'table',
  referenceC: 20,
  waits: [
    { celsius: 10, minutes: waitClock(F.urea_formaldehyde_powder.clamp_unstressed_10C).typical },
    { celsius: 20, minutes: waitClock(F.urea_formaldehyde_powder.clamp_unstressed_20C).typical },
  ],
  deadlines: null,
  source: F.urea_formaldehyde_powder.clamp_unstressed_10C.source,
}

const UREA_SEPARATE_RESPONSE: TemperatureResponse = {
  kind: 'table',
  referenceC: 20,
  waits: [
    { celsius: 10, minutes: waitClock(F.urea_formaldehyde_separate.clamp_unstressed_10C).typical },
    { celsius: 20, minutes: waitClock(F.urea_formaldehyde_separate.clamp_unstressed_20C).typical },
    { celsius: 30, minutes: waitClock(F.urea_formaldehyde_separate.clamp_unstressed_30C).typical },
  ],
  deadlines: [
    { celsius: 10, minutes: deadlineClock(F.urea_formaldehyde_separate.assembly_10C).typical },
    { celsius: 20, minutes: deadlineClock(F.urea_formaldehyde_separate.assembly_20C).typical },
    // The same sheet goes on to 25 C.
    { celsius: 25, minutes: 5 },
  ],
  source: F.urea_formaldehyde_separate.clamp_unstressed_10C.source,
}

/** All glue classes, the usual ones of a small shop first. */
export const GLUE_CLASSES: readonly GlueClass[] = [
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
  {
    id: 'polyurethane_1c',
    name: 'Polyurethane glue, one-part',
    note: 'Foams; wants a little moisture: dampen dry wood.',
    clocks: glueClocks({
      open: F.polyurethane_1c.total_assembly,
      assembly: F.polyurethane_1c.total_assembly,
      clampsOff: F.polyurethane_1c.clamp_unstressed,
      clampsOffStressed: STRESSED_A_DAY,
      mayMachine: MACHINE_NEXT_DAY,
      fullStrength: F.polyurethane_1c.full_cure,
    }),
    potLife: null,
    coldestC: coldest(F.polyurethane_1c.min_temp),
    response: {
      kind: 'doubling',
      referenceC: 21,
      intervalC: usual(F.polyurethane_1c.doubling_interval),
      fastestC: 21,
      source: F.polyurethane_1c.doubling_interval.source,
    },
    setsInTheCold: false,
    spoils: null,
    spread: null,
    waterBorne: false,
    water: 'waterproof',
    contactOnly: false,
    cautions: ['isocyanate'],
  },
  {
    id: 'epoxy_fast',
    name: 'Epoxy, fast hardener',
    note: 'Fills gaps; contact pressure only. Works in the cold down to its limit, with a longer cure.',
    clocks: glueClocks({
      open: F.epoxy_fast.open_assembly,
      assembly: F.epoxy_fast.open_assembly,
      clampsOff: F.epoxy_fast.clamp_unstressed,
      clampsOffStressed: F.epoxy_slow.clamp_stressed,
      mayMachine: practice([24, 24, 48], 'h', 'half-cured dust is harmful: wait until it sands to powder'),
      fullStrength: memory([1, 4, 7], 'd', 'as for slow hardener'),
    }),
    potLife: deadlineClock(F.epoxy_fast.pot_life),
    coldestC: coldest(F.epoxy_fast.min_temp),
    response: EPOXY_RESPONSE,
    setsInTheCold: false,
    spoils: null,
    spread: null,
    waterBorne: false,
    water: 'waterproof',
    contactOnly: true,
    cautions: ['epoxy_skin', 'exotherm'],
  },
  {
    id: 'epoxy_slow',
    name: 'Epoxy, slow hardener',
    note: 'More time to assemble; contact pressure only. Use a pot within half its pot life.',
    clocks: glueClocks({
      open: memory([90, 100, 110], 'min', 'thin film, 22 C; a pot of 100 g is used within 10-12 min'),
      assembly: memory([90, 100, 110], 'min', 'thin film, 22 C; a pot of 100 g is used within 10-12 min'),
      // Printed is 10-15 h; the days of full strength are from memory.
      clampsOff: { ...F.epoxy_slow.clamp_unstressed, typical: null },
      clampsOffStressed: F.epoxy_slow.clamp_stressed,
      mayMachine: practice([24, 24, 48], 'h', 'half-cured dust is harmful: wait until it sands to powder'),
      fullStrength: memory([1, 4, 7], 'd', 'about 90 % at solid, the rest over several days at 72 F'),
    }),
    potLife: deadlineClock(F.epoxy_slow.pot_life),
    coldestC: coldest(F.epoxy_slow.min_temp),
    response: EPOXY_RESPONSE,
    setsInTheCold: false,
    spoils: null,
    spread: null,
    waterBorne: false,
    water: 'waterproof',
    contactOnly: true,
    cautions: ['epoxy_skin', 'exotherm'],
  },
  {
    id: 'epoxy_extra_slow',
    name: 'Epoxy, extra slow hardener',
    note: 'For large or hot assemblies; needs a warm shop.',
    clocks: glueClocks({
      open: memory([180, 200, 240], 'min', 'thin film, 22 C'),
      assembly: memory([180, 200, 240], 'min', 'thin film, 22 C'),
      clampsOff: memory([20, 22, 24], 'h', 'thin film to solid, 22 C'),
      clampsOffStressed: memory([24, 48, 48], 'h', 'joints under stress'),
      mayMachine: memory([24, 48, 72], 'h', 'until it sands to powder'),
      fullStrength: memory([4, 7, 9], 'd', '22 C'),
    }),
    potLife: deadlineClock(F.epoxy_extra_slow.pot_life),
    coldestC: coldest(F.epoxy_extra_slow.min_temp),
    response: EPOXY_RESPONSE,
    setsInTheCold: false,
    spoils: null,
    spread: null,
    waterBorne: false,
    water: 'waterproof',
    contactOnly: true,
    cautions: ['epoxy_skin', 'exotherm'],
  },
  {
    id: 'epoxy_quick',
    name: 'Epoxy, five-minute',
    note: 'For small repairs and inlays.',
    clocks: glueClocks({
      open: F.epoxy_quick.open_assembly,
      assembly: F.epoxy_quick.open_assembly,
      clampsOff: F.epoxy_quick.clamp_unstressed,
      clampsOffStressed: practice([24, 24, null], 'h', 'joints under stress'),
      mayMachine: practice([4, 24, 24], 'h', 'until it sands to powder'),
      fullStrength: F.epoxy_quick.full_cure,
    }),
    potLife: null,
    coldestC: coldest(memory([5, 10, 16], 'C', 'see the label')),
    response: EPOXY_RESPONSE,
    setsInTheCold: false,
    spoils: null,
    spread: null,
    waterBorne: false,
    water: 'resists',
    contactOnly: true,
    cautions: ['epoxy_skin'],
  },
  {
    id: 'urea_formaldehyde_powder',
    name: 'Urea-formaldehyde glue, powder',
    note: 'No creep: bent laminations, veneer. Makers differ much in clamp time and coldest temperature.',
    clocks: glueClocks({
      open: F.urea_formaldehyde_powder.open_assembly,
      assembly: F.urea_formaldehyde_powder.open_assembly,
      clampsOff: F.urea_formaldehyde_powder.clamp_unstressed,
      clampsOffStressed: STRESSED_A_DAY,
      mayMachine: MACHINE_NEXT_DAY,
      fullStrength: F.urea_formaldehyde_powder.full_cure,
    }),
    // The maker who prints the times by temperature allows 10 C; US-style labels ask for 21-22 C.
    potLife: deadlineClock(F.urea_formaldehyde_powder.pot_life),
    coldestC: coldest({ ...F.urea_formaldehyde_powder.min_temp, typical: F.urea_formaldehyde_powder.min_temp.min }),
    response: UREA_POWDER_RESPONSE,
    setsInTheCold: false,
    spoils: null,
    spread: { min: 100, max: 250, source: F.urea_formaldehyde_powder.coverage_mass.source },
    waterBorne: true,
    water: 'resists',
    contactOnly: false,
    cautions: ['catalysed'],
  },
  {
    id: 'urea_formaldehyde_separate',
    name: 'Urea-formaldehyde glue, separate hardener',
    note: 'The hardener goes on the other face: the clock starts when they meet.',
    clocks: glueClocks({
      open: F.urea_formaldehyde_separate.assembly_20C,
      assembly: F.urea_formaldehyde_separate.assembly_20C,
      clampsOff: F.urea_formaldehyde_separate.clamp_unstressed_20C,
      clampsOffStressed: published(
        [null, 3.5, null],
        'h',
        '20 C; at least double if strained soon',
        `derived from ${CIBA_UREA}`,
      ),
      mayMachine: MACHINE_NEXT_DAY,
      fullStrength: practice([24, 24, 48], 'h', 'no figure on the sheet'),
    }),
    potLife: null,
    coldestC: coldest(published([10, 10, null], 'C', 'coldest of the printed table', CIBA_UREA)),
    response: UREA_SEPARATE_RESPONSE,
    setsInTheCold: false,
    spoils: null,
    spread: {
      min: 200,
      max: 400,
      source: 'published — urea adhesive sheet reprinted in the Falco Construction Manual app. D; hardener extra',
    },
    waterBorne: true,
    water: 'resists',
    contactOnly: false,
    cautions: ['catalysed'],
  },
  {
    id: 'resorcinol',
    name: 'Resorcinol glue',
    note: 'For wet places and boats; dark joint line.',
    clocks: glueClocks({
      open: F.resorcinol.open_assembly,
      assembly: memory([15, 20, 30], 'min', 'see the label'),
      clampsOff: F.resorcinol.clamp_unstressed,
      clampsOffStressed: practice([24, 24, null], 'h', 'joints under stress'),
      mayMachine: MACHINE_NEXT_DAY,
      fullStrength: memory([24, 24, 168], 'h', 'see the label'),
    }),
    potLife: null,
    coldestC: coldest(memory([16, 21, 21], 'C', 'see the label')),
    response: RESORCINOL_RESPONSE,
    setsInTheCold: false,
    spoils: null,
    spread: null,
    waterBorne: true,
    water: 'waterproof',
    contactOnly: false,
    cautions: ['catalysed'],
  },
  {
    id: 'cyanoacrylate',
    name: 'Instant glue (CA)',
    note: 'Small parts and repairs, held by hand.',
    clocks: glueClocks({
      open: F.cyanoacrylate.set_thin,
      assembly: F.cyanoacrylate.set_medium,
      clampsOff: F.cyanoacrylate.set_thick,
      clampsOffStressed: F.cyanoacrylate.full_cure,
      mayMachine: practice([5, 15, 60], 'min', 'once hard'),
      fullStrength: F.cyanoacrylate.full_cure,
    }),
    potLife: null,
    coldestC: coldest(F.cyanoacrylate.min_temp),
    response: NO_RULE,
    setsInTheCold: true,
    spoils: null,
    spread: null,
    waterBorne: false,
    water: 'resists',
    contactOnly: true,
    cautions: ['glue_mist_ca', 'vapour'],
  },
]

const BY_ID: ReadonlyMap<string, GlueClass> = new Map(GLUE_CLASSES.map((one) => [one.id, one]))

/** The class of that id, or null where a stored id is unknown to this version. */
export const glueClass = (id: string): GlueClass | null => BY_ID.get(id) ?? null
