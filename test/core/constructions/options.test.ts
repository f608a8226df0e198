import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import type { Drawing } from '../../../core/constructions/drawing.ts'
import { inches } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'

const shop = aShop()

interface Made {
  readonly build: Build
  readonly drawing: Drawing
}

/** Woods that nobody is known to react to: so that only what the option brings is told. */
const MILD = { woodA: 'maple', woodB: 'cherry', frameWood: 'cherry', lidWood: 'cherry', endWood: 'cherry' }

function made(id: string, input: SpecInput): Made {
  const construction = constructionOf(id)
  const spec = construction?.read({ ...construction.starting('inch'), ...MILD, ...input }, 'inch', shop)
  if (construction === undefined || spec?.ok !== true)
    throw new Error(`${id}: ${JSON.stringify(spec?.ok === false ? spec.problems : '')}`)
  const build = construction.build(spec.value, 1, shop)
  const drawing = construction.draw(spec.value, shop)
  if (!build.ok || drawing === null) throw new Error(`${id} cannot be built or drawn`)
  return { build: build.value, drawing }
}

/** Everything an option may bring, by name. */
interface Brings {
  readonly parts?: readonly string[]
  readonly fittings?: readonly string[]
  /** Step key and the cautions that it must have, worst first. */
  readonly steps?: Readonly<Record<string, readonly string[]>>
  /** `View: shape`, and words of a dimension as `View | words`. */
  readonly drawn?: readonly string[]
  readonly facts?: readonly string[]
  readonly warns?: RegExp
}

const partNames = ({ build }: Made) => build.parts.map(({ name }) => name)
const stepKeys = ({ build }: Made) => build.steps.map(({ key }) => key)
const factKeys = ({ build }: Made) => build.geometry.map(({ key }) => key)
const fittingNames = ({ build }: Made) => (build.fittings ?? []).map(({ name }) => name)
const drawnNames = ({ drawing }: Made) =>
  drawing.views.flatMap((view) => [
    ...view.shapes.flatMap((shape) => (shape.kind === 'line' ? [] : [`${view.name}: ${shape.name}`])),
    ...view.dimensions.map(({ text }) => `${view.name} | ${text.replace(/^[^a-z]*/, '')}`),
  ])
const added = (before: readonly string[], now: readonly string[]): string[] => [
  ...new Set(now.filter((one) => !before.includes(one))),
]

const saw = ['saw']
const routing = ['cutter_head', 'dust_lung', 'noise']

/** Without it, with it, and all that it brings; what is not named here must not come. */
const OPTIONS: readonly (readonly [
  id: string,
  option: string,
  without: SpecInput,
  with_: SpecInput,
  brings: Brings,
])[] = [
  ...(['end-grain-board', 'edge-grain-board'] as const).flatMap(
    (id) =>
      [
        [
          id,
          'juice groove',
          {},
          { juiceGroove: true },
          {
            steps: { 'juice-groove': routing },
            drawn: [
              'Plan: Juice groove',
              'Section across: Juice groove',
              'Section across | groove',
              'Section across | deep',
            ],
            facts: ['juice-groove'],
          },
        ],
        [
          id,
          'finger grips',
          {},
          { fingerGrips: true },
          {
            steps: { 'finger-grips': routing },
            drawn: ['Plan: Finger grip', 'Section across: Finger grip', 'Section across | grip'],
            facts: ['finger-grips'],
          },
        ],
        [
          id,
          'feet',
          {},
          { feet: true },
          {
            fittings: ['Feet', 'Screws for the feet'],
            steps: { feet: [] },
            drawn: ['Plan: Foot', 'Plan | to the feet', 'Section across: Foot', 'Section across | feet'],
            facts: ['feet'],
          },
        ],
      ] as const,
  ),
  [
    'end-grain-board',
    'frame',
    {},
    { framed: true },
    {
      parts: ['Frame member, across', 'Frame member, along'],
      steps: {
        'mill-frame': ['cutter_head', 'dust_lung', 'noise'],
        tongues: saw,
        groove: saw,
        mitres: ['saw', 'sled'],
        'frame-glue-up': [],
        'release-frame-glue-up': [],
        'flush-frame': ['dust_lung'],
      },
      drawn: [
        'Plan: Frame',
        'Section across: Frame member with its tongue',
        'Section across: Groove',
        'Plan | field',
        'Plan | seen',
        'Section across | seen',
        'Section across | cut',
        'Section across | gap',
      ],
      facts: ['outside-across', 'outside-along', 'frame-stock', 'frame-blank', 'groove', 'mitres-open'],
    },
  ],
  ...(['end-grain-board', 'framed-field'] as const).map(
    (id) =>
      [
        id,
        'splines',
        { framed: true },
        { framed: true, splines: true },
        {
          parts: ['Spline'],
          steps: { 'spline-slots': ['saw', 'tall_fence'], splines: [] },
          drawn: ['Plan: Spline', 'Plan | spline'],
        },
      ] as const,
  ),
  ...(['end-grain-board', 'framed-field'] as const).flatMap(
    (id) =>
      [
        [
          id,
          'frame raised off the table',
          { framed: true },
          { framed: true, under: 'raised', underBy: '1/4' },
          { drawn: ['Section across | off the table'], facts: ['stands-off'] },
        ],
        [
          id,
          'frame beveled below',
          { framed: true },
          { framed: true, under: 'beveled', underBy: '1/4' },
          {
            steps: { 'bevel-frame': ['saw', 'tall_fence', ...routing] },
            drawn: ['Plan: Bevel below', 'Section across | bevel'],
            facts: ['beveled'],
          },
        ],
      ] as const,
  ),
  ...(['end-grain-board', 'edge-grain-board', 'framed-field', 'box', 'small-table'] as const).flatMap(
    (id) =>
      [
        [
          id,
          'engraving in the shop',
          {},
          { engraving: 'shop', engravingSays: 'Anno 1906' },
          { steps: { engrave: ['engraving'] }, facts: ['engraving'] },
        ],
        [
          id,
          'engraving by somebody else',
          {},
          { engraving: 'outside', engravingDays: '10' },
          { steps: { 'send-to-engraver': [], 'back-from-engraver': [] }, facts: ['engraving'] },
        ],
        [
          id,
          'inlay',
          {},
          { inlay: true, inlayWood: 'cherry', inlayShows: 'A star' },
          {
            parts: ['Inlay'],
            steps: { inlay: ['saw', 'kickback', 'short_piece', ...routing] },
            facts: ['inlay'],
          },
        ],
      ] as const,
  ),
  [
    'edge-grain-board',
    'screws instead of pegs in its ends',
    { breadboard: true },
    { breadboard: true, fastening: 'screws' },
    {
      fittings: ['Screws for the ends', 'Plugs over the screws'],
      drawn: ['Plan: Screw', 'Plan: Slot for a screw'],
    },
  ],
  ['edge-grain-board', 'sliding dovetails', { breadboard: true }, { breadboard: true, fastening: 'dovetail' }, {}],
  [
    'edge-grain-board',
    'ends that only glue holds, on a wide slab',
    { breadboard: true, width: '14' },
    { breadboard: true, width: '14', fastening: 'glue' },
    { warns: /take pegs, screws or a sliding dovetail/ },
  ],
  [
    'box',
    'hand holes',
    {},
    { handles: 'cut-out' },
    {
      steps: { 'hand-holes': routing },
      drawn: ['Short side: Short side', 'Short side: Hand hole', 'Short side | hand hole'],
      facts: ['handles'],
    },
  ],
  [
    'box',
    'handles screwed on',
    {},
    { handles: 'screwed-on' },
    { fittings: ['Handles', 'Screws for the handles'], steps: { handles: [] } },
  ],
  [
    'box',
    'drawer front screwed on',
    { bottomFit: 'drawer' },
    { bottomFit: 'drawer', front: 'applied', frontWood: 'cherry' },
    {
      parts: ['Inner front'],
      fittings: ['Screws for the front'],
      steps: { front: [] },
      drawn: ['Drawer front: Drawer front', 'Drawer front: Drawer behind it', 'Drawer front | ', 'Drawer front | over'],
    },
  ],
  [
    'framed-field',
    'another frame out of the same panel',
    {},
    { otherFrames: [{ frameWood: 'walnut', frameFace: '2' }] },
    {
      drawn: [
        ...['Plan, frame 2: Cell', 'Plan, frame 2: Frame'],
        ...['Plan, frame 2 | ', 'Plan, frame 2 | cell', 'Plan, frame 2 | field', 'Plan, frame 2 | seen'],
        ...['Section across, frame 2: Cell', 'Section across, frame 2: Frame member with its tongue'],
        ...['Section across, frame 2: Groove', 'Section across, frame 2 | ', 'Section across, frame 2 | cut'],
        ...['Section across, frame 2 | gap', 'Section across, frame 2 | seen'],
      ],
      facts: ['other-frame-1'],
    },
  ],
  [
    'framed-field',
    'glued all round',
    { fieldKind: 'staves' },
    { fieldKind: 'staves', staveFixing: 'all-round' },
    {
      drawn: ['Plan: Field as it would grow, without room', 'Section across | to grow, and no room'],
      warns:
        /glued solid into its frame, grows .*" in the damp season and shrinks .*" in the dry one; the frame does not follow/,
    },
  ],
  [
    'framed-field',
    'staves instead of cells',
    { fieldKind: 'cells' },
    { fieldKind: 'staves' },
    {
      parts: ['Stave', 'Frame member, across', 'Frame member, along'],
      steps: { 'glue-up': [], 'release-glue-up': [] },
      drawn: ['Plan: Stave', 'Section across: Stave', 'Plan | stave'],
      facts: ['staves'],
    },
  ],
  [
    'edge-grain-board',
    'breadboard ends',
    {},
    { breadboard: true },
    {
      parts: ['Breadboard end'],
      fittings: ['Pegs, 1/4" dowel'],
      steps: {
        'mill-ends': ['cutter_head', 'dust_lung', 'noise'],
        'fit-ends': saw,
        'ends-glue-up': [],
        'release-ends-glue-up': [],
        'flush-ends': ['dust_lung'],
      },
      drawn: [
        'Plan: Breadboard end',
        'Plan: Peg',
        'Plan: Slot for a peg',
        'Plan | end',
        'Plan | tongue',
        'Plan | slot',
        'Section along: Breadboard end',
        'Section along: Slab with its tongues',
        'Section along | tongue',
      ],
      facts: ['end', 'slot', 'stands-out', 'stands-back'],
    },
  ],
  [
    'box',
    'splines',
    {},
    { splines: '2' },
    {
      parts: ['Spline'],
      steps: { 'spline-slots': ['saw', 'tall_fence'], splines: [] },
      drawn: ['End: Spline', 'End: Short side', 'End | to a spline', 'End | '],
    },
  ],
  [
    'box',
    'drawer bottom',
    {},
    { bottomFit: 'drawer' },
    { parts: ['Drawer front', 'Drawer back'], drawn: ['Section across: Back'] },
  ],
  ['box', 'rabbeted corners', {}, { corners: 'rebated' }, {}],
  [
    'box',
    'loose lid',
    {},
    { lid: 'loose' },
    {
      parts: ['Lid'],
      steps: {
        'lid-mill': ['cutter_head', 'dust_lung', 'noise'],
        'lid-rip': ['saw', 'kickback', 'dust_lung', 'noise'],
        'lid-glue-up': [],
        'release-lid-glue-up': [],
        'lid-flatten-panel': ['dust_lung'],
        'lid-trim': saw,
        'fit-lid': ['saw', 'cutter_head', 'dust_lung', 'noise'],
      },
      drawn: ['Section across: Lid', 'Section across | lid'],
      facts: ['lid-width', 'lid-grows', 'lid-shrinks'],
    },
  ],
  [
    'box',
    'hinged lid',
    { lid: 'loose' },
    { lid: 'hinged' },
    { fittings: ['Hinges', 'Screws for the hinges'], steps: { hinges: [] }, drawn: ['Plan: Hinge'] },
  ],
  [
    'small-table',
    'buttons instead of figure-eights',
    { fasteners: 'figure-eights' },
    { fasteners: 'buttons' },
    {
      parts: ['Button strip'],
      fittings: ['Screws for the buttons'],
      steps: { buttons: ['saw', 'kickback', 'short_piece', 'sled'] },
      drawn: ['Section across: Button'],
    },
  ],
  [
    'small-table',
    'figure-eights instead of buttons',
    { fasteners: 'buttons' },
    { fasteners: 'figure-eights' },
    {
      fittings: ['Figure-eights', 'Screws for the figure-eights'],
      drawn: ['Section across: Figure-eight'],
    },
  ],
]

describe.each(OPTIONS)('%s with %s', (id, _, without, with_, brings) => {
  const [before, now] = [made(id, without), made(id, with_)]

  test('brings its parts and what is bought for it, and nothing else', () => {
    expect(added(partNames(before), partNames(now))).toEqual(brings.parts ?? [])
    expect(added(fittingNames(before), fittingNames(now))).toEqual(brings.fittings ?? [])
    // Rough sizes hold the finished ones and what comes off again.
    for (const part of now.build.parts.filter(({ name }) => brings.parts?.includes(name)))
      expect(part.rough.lengthNm, part.name).toBeGreaterThan(part.finished.lengthNm)
  })

  test('brings its steps, each with its cautions, and nothing else', () => {
    const steps = brings.steps ?? {}
    expect(added(stepKeys(before), stepKeys(now)).toSorted()).toEqual(Object.keys(steps).toSorted())
    for (const [key, cautions] of Object.entries(steps)) {
      const step = now.build.steps.find((one) => one.key === key)
      expect(step?.cautions, key).toEqual(cautions)
    }
  })

  test('is in the drawing, measured', () =>
    expect(added(drawnNames(before), drawnNames(now)).toSorted()).toEqual([...(brings.drawn ?? [])].toSorted()))

  test('brings its figures, each with rule and source, and its warning', () => {
    expect(added(factKeys(before), factKeys(now))).toEqual(brings.facts ?? [])
    for (const { key, rule, source } of now.build.geometry.filter((one) => brings.facts?.includes(one.key)))
      expect([rule.length > 5, source.length > 5], key).toEqual([true, true])
    const warnings = added(before.build.warnings, now.build.warnings)
    if (brings.warns === undefined) expect(warnings).toEqual([])
    else expect(warnings.join(' ')).toMatch(brings.warns)
  })
})

describe('cautions of every construction', () => {
  const chopping = { food: true, finish: 'tung_pure', woodA: 'walnut' }

  test.each(['end-grain-board', 'edge-grain-board', 'framed-field', 'box', 'small-table'])(
    '%s: rags at every coat of oil, food and nuts where it is eaten from, dust, woods that people react to, hand-over',
    (id) => {
      const { steps } = made(id, { ...chopping, coats: '4' }).build
      const of = (operation: RegExp) => steps.filter((step) => operation.test(step.operation))
      const coats = of(/-coat$/)
      expect(coats).toHaveLength(4)
      for (const coat of coats) {
        expect(coat.cautions[0], coat.key).toBe('rag_fire')
        expect(coat.cautions, coat.key).toContain('nut')
        expect(coat.cautions.includes('food_contact'), coat.key).toBe(id !== 'small-table')
      }
      for (const step of of(/^(sand|mill|rip|flatten|ease)/)) {
        expect(step.cautions, step.key).toContain('dust_lung')
        // Of a table whose top is walnut the base may be another wood; the piece is one to whoever makes it.
        expect(step.cautions, step.key).toContain('dust_allergy')
      }
      for (const step of of(/^(mill|rip|ease)/)) expect(step.cautions, step.key).toContain('noise')
      for (const step of of(/^(mill|ease)/)) expect(step.cautions, step.key).toContain('cutter_head')
      for (const step of of(/^(rip|crosscut|trim|groove|mitre|tongue)/)) expect(step.cautions[0], step.key).toBe('saw')
      expect(steps.at(-1)?.cautions).toContain('handover')
    },
  )

  test('every oil and oil-varnish of the almanac brings the rags at every one of its coats, and no other finish does', () => {
    const soaked = shop.finishes.filter(({ dryingOil }) => dryingOil).map(({ id }) => id)
    expect(soaked.length).toBeGreaterThan(5)
    for (const { id, name } of shop.finishes) {
      const coats = made('edge-grain-board', { finish: id }).build.steps.filter(({ key }) => /^coat-\d/.test(key))
      expect(coats.length, name).toBeGreaterThan(0)
      for (const coat of coats) expect(coat.cautions.includes('rag_fire'), name).toBe(soaked.includes(id))
    }
  })

  test('what is heavy says so where it is lifted', () => {
    const heavy = made('edge-grain-board', { lay: 'face-up', length: '60', width: '20', thickness: '2', stave: '5' })
    const lifted = heavy.build.steps.filter(({ cautions }) => cautions.includes('lift')).map(({ key }) => key)
    expect(lifted).toEqual(['flatten-panel', 'pack'])
    expect(made('edge-grain-board', {}).build.steps.some(({ cautions }) => cautions.includes('lift'))).toBe(false)
  })
})

describe('what options come to', () => {
  test('an inlay is cut a little over its size and thickness, and handled as the wood that it is', () => {
    const inlay = { inlay: true, inlayWood: 'padauk', inlayLength: '4', inlayWidth: '1 1/2' }
    const { build } = made('edge-grain-board', inlay)
    const part = build.parts.find(({ name }) => name === 'Inlay')
    // Let in 1/8 in: common practice, no source.
    expect(part?.finished).toEqual({ lengthNm: inches(4), widthNm: inches(1.5), thicknessNm: inches(1 / 8) })
    const { squareEndNm, jointEdgeNm, flattenPanelNm } = shop.allowances
    expect(part?.rough).toEqual({
      lengthNm: inches(4) + 2 * squareEndNm,
      widthNm: inches(1.5) + 2 * jointEdgeNm,
      thicknessNm: inches(1 / 8) + flattenPanelNm,
    })
    expect(part?.wood).toBe('padauk')
    expect(build.steps.find(({ key }) => key === 'inlay')?.cautions).toContain('dust_allergy')
    // Ordered before its size was asked.
    const before = made('edge-grain-board', { ...inlay, inlayLength: '', inlayWidth: '' }).build
    expect(before.parts.map(({ name }) => name)).not.toContain('Inlay')
    expect(before.steps.map(({ key }) => key)).toContain('inlay')
  })

  test('a raised frame is so much thicker than its field, and the whole so much higher', () => {
    const { build } = made('framed-field', { under: 'raised', underBy: '1/4', thickness: '3/4' })
    const members = build.parts.filter(({ name }) => name.startsWith('Frame'))
    expect(members.map(({ finished }) => finished.thicknessNm)).toEqual(members.map(() => 25_400_000))
    expect(build.title).toContain('1"')
  })

  test('a bevel that would leave nothing of the edge is refused, with what it takes', () => {
    const construction = constructionOf('framed-field')
    const read = construction?.read(
      { ...construction.starting('inch'), under: 'beveled', underBy: '3/4' },
      'inch',
      shop,
    )
    expect(read?.ok === false ? read.problems : []).toEqual([
      { code: 'bevel-too-high', message: 'By: a bevel takes at most 1/2" here.', field: 'underBy' },
    ])
  })

  test('splines take the wood that is asked for them, in frames and boxes', () => {
    for (const [id, input] of [
      ['framed-field', { splines: true, splineWood: 'padauk' }],
      ['box', { splines: '2', splineWood: 'padauk' }],
    ] as const) {
      const keys = made(id, input).build.parts.filter(({ name }) => name === 'Spline')
      expect(
        keys.map(({ wood }) => wood),
        id,
      ).toEqual(['padauk'])
    }
  })

  test('a set shares its panel: twice the fields out of the same strips, each frame in its own wood', () => {
    const [one, set] = [
      made('framed-field', {}),
      made('framed-field', { otherFrames: [{ frameWood: 'walnut', frameFace: '3' }] }),
    ]
    const panelSteps = ({ build }: Made) => build.steps.filter(({ key }) => key.startsWith('first-glue-up')).length
    expect(panelSteps(set)).toBe(panelSteps(one))
    const frameWoods = set.build.parts.filter(({ name }) => name.startsWith('Frame')).map(({ wood }) => wood)
    expect(new Set(frameWoods)).toEqual(new Set(['cherry', 'walnut']))
    expect(set.build.title).toContain('set of 2')
    const cells = ({ build }: Made) =>
      build.parts
        .filter(({ name }) => /strip/i.test(name))
        .reduce((sum, { quantity, finished }) => sum + quantity * finished.lengthNm, 0)
    expect(cells(set)).toBe(2 * cells(one))
  })

  test('outside help takes its days and hardly any hands', () => {
    const { build } = made('edge-grain-board', { engraving: 'outside', engravingDays: '10' })
    const away = build.lags.find(({ from }) => from === 'send-to-engraver')
    expect([away?.to, away?.minMin]).toEqual(['back-from-engraver', 10 * 24 * 60])
    const hands = build.steps.filter(({ key }) => key.endsWith('engraver')).map(({ minutes }) => minutes)
    expect(Math.max(...hands)).toBeLessThan(60)
  })

  test('screws travel with the slab, pegs do not: where the damp season brings more, the slots run the other way', () => {
    const slot = (fastening: string) =>
      made('edge-grain-board', { breadboard: true, fastening }).build.geometry.find(({ key }) => key === 'slot')?.rule
    const [, out, back] = /: peg .*, (.*) outward of it for shrinking and (.*) inward/.exec(slot('pegs') ?? '') ?? []
    const [, grow, shrink] =
      /: shank .*, (.*) outward of it for growing and (.*) inward/.exec(slot('screws') ?? '') ?? []
    expect([grow, shrink]).toEqual([back, out])
    expect(out).not.toBe(undefined)
  })

  test('parts too short for the planer are milled in one stick, and say so at the step', () => {
    const mill = (length: string) => made('box', { length, width: '6' }).build.steps.find(({ key }) => key === 'mill')
    expect(mill('8')?.cautions).toContain('short_piece')
    expect(mill('8')?.note).toMatch(/one stick of at least 12"/)
    expect(
      made('framed-field', { fieldKind: 'staves', length: '30', width: '20' }).build.steps.find(
        ({ key }) => key === 'mill-frame',
      )?.cautions,
    ).not.toContain('short_piece')
  })

  test('a set that the clamps cannot hold is refused with what would do', () => {
    const construction = constructionOf('framed-field')
    const otherFrames = [1, 2, 3].map(() => ({ frameWood: 'walnut', frameFace: '2' }))
    const spec = construction?.read({ ...construction.starting('inch'), otherFrames }, 'inch', shop)
    const build = spec?.ok === true ? construction?.build(spec.value, 1, shop) : undefined
    const [first] = build?.ok === false ? build.problems : []
    expect([first?.code, first?.field]).toEqual(['set-too-big', 'otherFrames'])
    expect(first?.message).toMatch(/add one of its frames as a second piece/)
  })

  test('a schedule has coats of its own: a number under Coats that it leaves out is told', () => {
    const { warnings } = made('edge-grain-board', { finish: 'sealed-and-brushed', coats: '5' }).build
    expect(warnings).toContain(
      'Shellac, then two brushed coats has 3 coats of its own: the 5 under Coats are left out.',
    )
    const silent = made('edge-grain-board', { finish: 'sealed-and-brushed', coats: '3' }).build.warnings
    expect(silent.join(' ')).not.toMatch(/left out/)
  })
})
