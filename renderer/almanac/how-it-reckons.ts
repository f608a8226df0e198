/** What is computed, how, and from which sources. The README's table has the same rows: a test holds them together. */
export interface Reckoning {
  readonly what: string
  readonly how: string
  readonly source: string
}

export const howItReckons: readonly Reckoning[] = [
  {
    what: 'steps, parts, rough sizes',
    how: "from the construction's spec and the almanac's allowances",
    source: 'common practice, marked where no source is known',
  },
  {
    what: 'clamp, cure and recoat times',
    how: 'ranges by class of glue and finish; the label always wins',
    source: "makers' sheets and trade publications, named beside each figure in the Almanac",
  },
  {
    what: 'what cold and damp do',
    how: 'slower in the cold by printed tables or doubling rules, finishes by bands; below the minimum a wait stands still',
    source: "adhesive makers' winter rules and sheets, finish makers' limits; the bands are our reading of them",
  },
  {
    what: 'moisture and movement',
    how: 'what wood holds at a humidity, and how far each species moves with it (equilibrium moisture content, dimensional change coefficients)',
    source: 'USDA Forest Products Laboratory, Wood Handbook (FPL-GTR-190, -282)',
  },
  {
    what: 'dates',
    how: 'each step in your hours, hands, clamps, rack and clean air, with its waits, recoat windows and shared set-ups (resource-constrained scheduling); every plan is checked in the tests by a validator that shares no code with the planner',
    source: 'terms and methods of the scheduling literature, see benchmarks/README.md',
  },
  {
    what: 'cutting plans, what to buy',
    how: 'crosscuts and rips right through, grain along the part, kerfs and defects counted; no board bought for parts that others have room for; sizes, waste and prices of the yard are the almanac’s',
    source: 'packing measured against published optima, see benchmarks/README.md',
  },
  {
    what: 'odds of a date',
    how: "the weeks ahead lived through many times, with uncertain hands-on times, waits, evenings and mishaps, the same luck for every offer (common random numbers); times as the shop's log teaches them",
    source:
      'waits as triangles; hands-on times lognormal with a long tail (at most ten times the usual), pooled as in Efron and Morris (1975) and Rubin (1981)',
  },
  {
    what: 'price, tax, papers',
    how: "wood, supplies, hours, overhead by the hour, profit, each line rounded once in whole minor units; rates are the maker's own, none is built in",
    source: 'SSUTA 324, EN 16931, ISO 4217, UCC 2-718, 16 CFR 435; worked examples in the tests',
  },
  {
    what: 'cautions',
    how: 'at the step that needs them',
    source: 'OSHA, NFPA, CPSC and FDA publications as named beside each',
  },
]
