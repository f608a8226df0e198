import {
  GENERAL_FINISHES_DRY_CURE,
  HAUSJOURNAL,
  OILS_AND_WAX,
  RUST_OLEUM_WAT_02,
  TWO_PART_OIL_SUMMARY,
  WATERLOX_CARE,
  WATERLOX_DRY_TIME,
} from './citations.ts'
import { memory, practice, published, type Figure } from './figure.ts'

/** Figures for oils, oil and varnish blends, and waxes. */
export const OIL_FINISH_FIGURES = {
  wiping_oil_varnish: {
    penetrate: published([5, null, 10], 'min', 'then wipe all excess', RUST_OLEUM_WAT_02),
    touch_dry: practice([6, 8, 12], 'h', '70F; figure varies by brand'),
    recoat_min: practice([12, 24, 24], 'h', '70F 50%RH', '; the tung-and-resin maker says 24 h'),
    recoat_max: practice([null, null, null], 'd', 'no closing window for penetrating oil; scuff if older than a week'),
    coats: practice([2, 3, 5], 'count', ''),
    light_use: published([null, 7, null], 'd', 'oil-based, 70F/50%RH', GENERAL_FINISHES_DRY_CURE),
    full_cure: published(
      [null, 30, 90],
      'd',
      'oil-based 30; tung-and-resin 30-90',
      GENERAL_FINISHES_DRY_CURE,
      WATERLOX_DRY_TIME,
    ),
    min_temp: published([null, 16, null], 'C', '60F lower limit for the Danish type', RUST_OLEUM_WAT_02),
    max_temp: published([null, 32, null], 'C', '90F', RUST_OLEUM_WAT_02),
    max_rh: published([null, 85, null], '%', 'dry times longer in damp air', RUST_OLEUM_WAT_02),
  },
  varnish_tung_resin: {
    recoat_min: published([null, 24, null], 'h', 'cross-ventilation needed', WATERLOX_DRY_TIME),
    touch_dry: published([2, null, 4], 'h', 'solvent evaporates; film still soft', WATERLOX_DRY_TIME),
    light_use: published([1, 7, 7], 'd', '24 h before contact; 7 days before placing things', WATERLOX_CARE),
    do_not_use: published(
      [72, null, 96],
      'h',
      'counter tops',
      'Paint retailer, tung-oil-and-resin finish on wood counter tops',
    ),
    cure_95pct: published([7, null, 14], 'd', 'with ventilation', WATERLOX_DRY_TIME),
    full_cure: published([30, null, 90], 'd', '', WATERLOX_DRY_TIME),
    min_temp: published(
      [null, 10, null],
      'C',
      'apply above 50F; keep above 70F for first 7 days if possible',
      'Waterlox Coatings, Environmental Conditions guide',
      WATERLOX_CARE,
    ),
  },
  hardwax_oil: {
    touch_dry: published([6, 9, 12], 'h', 'room temperature', HAUSJOURNAL),
    recoat_min: published([8, 12, 24], 'h', '', HAUSJOURNAL),
    coats: published(
      [2, 2, 2],
      'count',
      'max 2 by brush or roller; max 4 by cloth',
      'Osmo UK, FAQ: Why is the surface still sticky',
    ),
    coverage_area: published(
      [24, 30, 30],
      'm2/L',
      'second-coat rate about 30; 24 label figure from memory',
      'Australian flooring distributor blog (2013), oil coverage',
      'lower from memory',
    ),
    light_use: published([1, 2, 2], 'd', '24-48 h', HAUSJOURNAL),
    full_cure: published(
      [7, 7, 21],
      'd',
      'about a week; makers up to 2-3 weeks (memory)',
      HAUSJOURNAL,
      'upper from memory',
    ),
    min_temp: published([10, 16, null], 'C', '16C stated by some makers', HAUSJOURNAL),
  },
  hardwax_oil_2c: {
    handle: published([null, 24, null], 'h', 'with accelerator', TWO_PART_OIL_SUMMARY),
    light_use: published([null, 48, null], 'h', 'with accelerator', TWO_PART_OIL_SUMMARY),
    full_cure: published([null, 7, null], 'd', 'with accelerator, liquid resistance', TWO_PART_OIL_SUMMARY),
    coats: published([1, 1, 2], 'count', 'second coat only on porous softwood', TWO_PART_OIL_SUMMARY),
  },
  linseed_boiled: {
    recoat_min: published([24, 24, 72], 'h', 'per coat at 70F; thin', 'oil drying test reported by a woodworking site'),
    speed_factor_vs_oil_varnish: published(
      [3, 4, 5],
      'x',
      'allow 3-5 times the drying time of a Danish-type oil',
      'woodworking class handout on oil finish',
    ),
    full_cure: practice([14, 30, 60], 'd', ''),
  },
  linseed_polymerised: {
    recoat_min: memory([null, 24, null], 'h', 'very thin coats, buffed dry'),
    coats: practice([2, 3, 3], 'count', ''),
    full_cure: practice([null, 30, null], 'd', ''),
  },
  tung_pure: {
    recoat_min: practice([24, 48, 72], 'h', 'two to three days in some accounts'),
    coats: practice([4, 5, 7], 'count', 'thin the first ones'),
    full_cure: practice([21, 30, 30], 'd', 'before food use; weak sources agree on about 30'),
  },
  mineral_oil_wax: {
    soak_per_coat: published([4, 5, 6], 'h', 'flood, then wipe excess', OILS_AND_WAX),
    coats: published(
      [2, 3, 10],
      'count',
      '2-3 coats usual; one maker used 10 over a week',
      OILS_AND_WAX,
      'maker forum post, end-grain board (10 oil coats)',
    ),
    rest_before_use: published([8, 12, 24], 'h', 'overnight to drain; never hardens', OILS_AND_WAX),
    wax_then_buff: published([0.5, 2, 12], 'h', 'a few hours or overnight then buff', 'two board-care pages'),
    reoil: published(
      [7, 25, 30],
      'd',
      'weekly first month, then every 3-4 weeks',
      "countertop maker's care page, Mineral Oil and Beeswax",
    ),
  },
  paste_wax: {
    haze: memory([10, 15, 20], 'min', 'then buff', 'label figure, not looked up'),
    apply_over_cured_finish: practice([7, 14, 30], 'd', 'wax only a cured film'),
  },
} as const satisfies Record<string, Record<string, Figure>>
