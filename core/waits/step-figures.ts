import { ESTIMATING_TIME, FRANKLIN_GUIDE, PRICING_POST } from './citations.ts'
import { practice, published, type Figure } from './figure.ts'

/**
 * Hands-on times as makers have written them down, and starting guesses where nobody has: to be replaced by the shop's own
 * log. `lumber.acclimate` is how long boards rest in the shop before they are milled.
 */
export const STEP_FIGURES = {
  lumber: {
    acclimate: published([7, null, 14], 'd', 'in the shop before milling, RH 40-50%, MC 6-8%', FRANKLIN_GUIDE),
  },
  mill_solid: {
    rate: published(
      [null, 4, null],
      'min/bf',
      'rough-sawn to square parts, ~15 bd ft/h incl. selecting and sweeping',
      ESTIMATING_TIME,
    ),
  },
  cut_sheet: {
    rate: published([null, 20, null], 'min/sheet', '3 sheets/h', ESTIMATING_TIME),
  },
  joint_furniture: {
    per_joint: published(
      [null, 120, null],
      'min',
      'hand-fitted; repeats -5% each to -30%',
      ESTIMATING_TIME,
      'Furniture & Cabinetmaking, How to Price the Job (2009)',
    ),
  },
  prep_and_finish: {
    per_area: published(
      [null, 60, null],
      'min/ft2',
      'fine furniture: prepare and polish; often ~30% of job hours',
      ESTIMATING_TIME,
    ),
  },
  board_glue_up: {
    per_piece: published(
      [null, 10, null],
      'min',
      'plus set-up and clean-up; 12 pieces about 2 h',
      "board maker's journal, How long does it take? (2019)",
    ),
  },
  board_refresh: {
    per_piece: published(
      [7, null, 15],
      'min',
      'sand and re-oil used boards; a pair took about 15 min all told',
      "board maker's journal (2022 post)",
    ),
  },
  end_grain_vs_edge_grain: {
    factor: published([null, 2, null], 'x', 'end-grain about twice the labour', 'tool-shop blog (2013)'),
  },
  picture_frame: {
    whole: published([null, 5, null], 'h', '', PRICING_POST),
  },
  small_furniture: {
    whole: published([null, 20, null], 'h', 'e.g. kneeler', PRICING_POST),
  },
  cabinet: {
    whole: published([null, 100, null], 'h', 'first one, gun cabinet', PRICING_POST),
  },
  machine_setup: {
    per_setup: practice(
      [5, 10, 20],
      'min',
      'fence/blade/height change and test cut',
      " (starting guess; replace with the shop's own log)",
    ),
  },
  rip: {
    per_strip: practice([0.5, 1, 2], 'min', 'after set-up', " (starting guess; replace with the shop's own log)"),
  },
  crosscut_slices: {
    per_cut: practice(
      [0.5, 1, 2],
      'min',
      'sled, end-grain slices',
      " (starting guess; replace with the shop's own log)",
    ),
  },
  mitre_frame: {
    per_frame: practice(
      [15, 30, 60],
      'min',
      'cut and shoot 4 corners',
      " (starting guess; replace with the shop's own log)",
    ),
  },
  spread_and_clamp: {
    per_assembly: practice(
      [10, 20, 40],
      'min',
      'small board or box',
      " (starting guess; replace with the shop's own log)",
    ),
  },
  flatten_board: {
    per_board: practice(
      [10, 20, 45],
      'min',
      'drum sander or plane',
      " (starting guess; replace with the shop's own log)",
    ),
  },
  sand_per_grit: {
    per_ft2: practice(
      [1, 3, 5],
      'min/ft2',
      'power sanding each grit',
      " (starting guess; replace with the shop's own log)",
    ),
  },
  ease_edges_groove: {
    per_board: practice([5, 10, 20], 'min', 'router', " (starting guess; replace with the shop's own log)"),
  },
  wipe_coat: {
    per_coat: practice(
      [5, 10, 20],
      'min',
      'small piece, incl. wiping off',
      " (starting guess; replace with the shop's own log)",
    ),
  },
  brush_coat: {
    per_coat: practice([10, 20, 40], 'min', 'small piece', " (starting guess; replace with the shop's own log)"),
  },
  sand_between_coats: {
    per_coat: practice([5, 10, 15], 'min', 'small piece', " (starting guess; replace with the shop's own log)"),
  },
  final_inspect_pack: {
    per_piece: practice(
      [10, 15, 30],
      'min',
      'plain paper next to film, label, care card',
      " (starting guess; replace with the shop's own log)",
    ),
  },
} as const satisfies Record<string, Record<string, Figure>>
