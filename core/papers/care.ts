/** What a care card says of pieces that are cared for alike. */
export interface CareFacts {
  /** As the buyer was asked: whether it is cut on or eaten from. */
  readonly use: 'cut-on' | 'eaten-from' | 'neither'
  /** Name of the finish; empty: it has none; null: no finish was put on. */
  readonly finish: string | null
  /** A finish that dries to a film; oil and wax do not. */
  readonly film: boolean
  /** Local day of the last coat, in words; null: not on yet. */
  readonly lastCoat: string | null
  /** Local day by which it is fully cured, in words; null: not known. */
  readonly curedOn: string | null
}

/** Pieces that are cared for alike, by their titles. */
export interface CareGroup {
  readonly titles: readonly string[]
  readonly facts: CareFacts
}

type Texts = readonly { readonly heading: string; readonly text: string }[]

/**
 * Care in the shop's own words; where pieces differ, each under its own name: an oiled board next to a varnished box still wants its oil.
 * Nothing is called safe or approved: that is for the maker of the finish to say.
 * @source USDA FSIS, Cutting Boards and Food Safety (wash, dry, sanitize, one board for raw meat, deep grooves); WOOD magazine (oil
 *   every three months, sand 80 to 180); FPL FinishLine (films chip under a knife, cooking oils may turn rancid); Western Australian
 *   Museum (40-60 % humidity, 15-25 °C, slow changes, no sun)
 */
export function careTexts(
  groups: readonly CareGroup[],
  { child, celsius }: { readonly child: boolean; readonly celsius: boolean },
): Texts {
  const isMixed = groups.length > 1
  return [
    ...groups.flatMap(({ titles, facts }) => {
      const texts = pieceTexts(facts)
      return isMixed ? [{ heading: titles.join(', '), text: texts.map(({ text }) => text).join('\n') }] : texts
    }),
    { heading: 'Where it lives', text: homeText(celsius) },
    ...(child
      ? [
          {
            heading: 'For a child',
            text: 'Look it over now and then: take it away when a part comes loose or splinters.',
          },
        ]
      : []),
  ]
}

const pieceTexts = (facts: CareFacts): Texts => [
  { heading: 'Finish', text: finishText(facts) },
  ...(facts.use === 'neither' ? [] : foodTexts(facts)),
]

function finishText({ finish, lastCoat, curedOn, use }: CareFacts): string {
  if (finish === null) return 'No finish: bare wood. It marks easily and takes up water.'
  const done = `Finished${finish === '' ? '' : ` with ${finish}`}${lastCoat === null ? '' : ` on ${lastCoat}`}.`
  const cured = curedOn === null ? '' : ` Fully cured about ${curedOn}: treat it gently until then.`
  const food = use === 'neither' ? '' : ' Its maker says what it is meant for once cured: ask for the label.'
  return `${done}${cured}${food}`
}

function foodTexts({ use, film }: CareFacts): Texts {
  const wash =
    'Wash by hand in hot soapy water, rinse, dry, stand it on edge. No dishwasher, no soaking: glued-up boards may crack and split.'
  const sanitize =
    'To sanitize: 1 tablespoon of unscented bleach in 1 gallon of water (4 ml a liter), a few minutes, rinse. Keep one board for raw meat and another for the rest.'
  const oil = film
    ? 'No oil needed: the finish is a film. A knife chips it, so do not cut on it.'
    : 'Oil it when it looks dry, at least every three months: mineral oil, not cooking oil, which may turn rancid.'
  const worn = 'Scored: sand with 80 to 180 grit and oil again. Deep grooves that do not come clean: replace it.'
  return use === 'cut-on'
    ? [
        { heading: 'Washing', text: `${wash} ${sanitize}` },
        { heading: 'Upkeep', text: film ? oil : `${oil} ${worn}` },
      ]
    : [
        { heading: 'Washing', text: wash },
        { heading: 'Upkeep', text: oil },
      ]
}

const homeText = (celsius: boolean): string =>
  `Wood moves with the seasons; a little is normal. Best at 40 to 60% humidity and ${celsius ? '15 to 25 °C' : '60 to 77 °F'}, with slow changes, out of the sun and away from heaters.`
