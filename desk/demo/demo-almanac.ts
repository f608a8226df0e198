import type { Almanac } from '../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { OwnConstruction } from '../../core/constructions/own/own-construction.ts'
import { emptyField, emptyStep } from '../../core/constructions/own/own-form.ts'
import { readOwnConstruction } from '../../core/constructions/own/read-own-construction.ts'

export const demoTimeZone = 'America/New_York'

/** An invented shop: one maker, evenings and Saturdays, a dozen clamps, one drying rack. */
export function demoAlmanac(): Almanac {
  const starting = startingAlmanac({ timeZone: demoTimeZone, units: 'inch', currency: 'USD' })
  const evening = [{ from: 19 * 60, to: 21 * 60 + 30 }]
  return {
    ...starting,
    shop: { ...starting.shop, name: 'Quince Lane Workshop' },
    firstStart: { greeted: true, hoursSaid: true },
    constructions: [demoKnifeBlock(starting)],
    // Invented, as the rest of the shop; the demo starts in inches and dollars.
    woodPrices: {
      walnut: { minor: 1240, per: 'board-foot' },
      cherry: { minor: 980, per: 'board-foot' },
      maple: { minor: 890, per: 'board-foot' },
      ash: { minor: 720, per: 'board-foot' },
    },
    money: {
      ...starting.money,
      ...{ payPerHourMinor: 2800, overheadYearMinor: 360_000, handsOnHoursYear: 600, profitRate: 100_000 },
      ...{ address: '12 Quince Lane', reach: '555-0100' },
    },
    makers: [
      {
        id: 'wren',
        name: 'Wren',
        attendance: 0.9,
        weeklyHours: { 1: evening, 2: evening, 3: evening, 4: evening, 6: [{ from: 9 * 60, to: 17 * 60 }] },
      },
    ],
  }
}

/** A knife block in layers, as the maker wrote it down. Invented. */
function demoKnifeBlock(almanac: Almanac): OwnConstruction {
  const step = (row: Record<string, string | boolean>) => ({ ...emptyStep, ...row })
  const field = (key: string, label: string, kind: string, start: string) => ({
    ...emptyField,
    key,
    label,
    kind,
    start,
  })
  const read = readOwnConstruction(
    {
      name: 'Knife block',
      about: 'Layers with slots between them, glued up at once; stands on the counter.',
      units: 'inch',
      fields: [
        field('height', 'Height', 'length', '9'),
        field('width', 'Width', 'length', '6'),
        field('slots', 'Slots', 'count', '5'),
        field('lid', 'Lid', 'yes-no', ''),
        field('wood', 'Wood', 'wood', 'cherry'),
        field('glue', 'Glue', 'glue', 'pva_type2'),
        field('finish', 'Finish', 'finish', 'hardwax_oil'),
      ],
      parts: [
        { name: 'Layer', wood: 'wood', quantity: 'slots + 1', length: 'height + 1', width: 'width', thickness: '5/8' },
        { name: 'Lid', wood: 'wood', quantity: 'lid', length: 'width', width: '2', thickness: '1/2' },
      ],
      steps: [
        step({ name: 'Mill the layers', kind: 'machine', minutes: '15 + 4 * (slots + 1)', dusty: true }),
        step({
          name: 'Cut the slots',
          kind: 'machine',
          minutes: '5 * slots',
          dusty: true,
          family: 'dado',
          setUp: '12',
        }),
        step({ name: 'Glue-up', kind: 'glue-up', minutes: '25', wait: 'glue', units: 'ceil(width / 2)' }),
        step({ name: 'Trim and sand', kind: 'machine', minutes: '40', dusty: true }),
        step({ name: 'Fit the lid', minutes: '30', when: 'lid' }),
        step({ name: 'First coat', kind: 'coat', minutes: '12', wait: 'finish' }),
        step({ name: 'Second coat', kind: 'coat', minutes: '12', wait: 'finish' }),
      ],
    },
    '',
    [],
    shopFactsOf(almanac, 0),
  )
  if (!read.ok) throw new Error(`The demo's knife block: ${JSON.stringify(read.problems)}`)
  return read.value
}
