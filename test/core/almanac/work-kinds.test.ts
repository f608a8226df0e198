import { describe, expect, it } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { STARTING_TIMES } from '../../../core/almanac/standard-times.ts'
import { changeFact } from '../../../core/almanac/facts.ts'
import { withoutListed } from '../../../core/almanac/lists.ts'
import {
  ableFor,
  machineFor,
  readLeftToOthers,
  WORK_KINDS,
  writeLeftToOthers,
} from '../../../core/almanac/work-kinds.ts'

const one = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const [ada] = one.makers
const almanac = {
  ...one,
  makers: [
    { ...ada!, id: 'ada', name: 'Ada' },
    { ...ada!, id: 'wren', name: 'Wren' },
  ],
}
const step = (operation: string, family: string | null, hands = 1) => ({
  ...{ operation, hands, setUp: family === null ? null : { family, minutes: 10 } },
})

describe('a kind of work', () => {
  it('is what every machine setup of the standard times belongs to, but for spraying', () => {
    const families = new Set(STARTING_TIMES.flatMap(({ family }) => family ?? []))
    const known = new Set(WORK_KINDS.flatMap((kind) => kind.families))
    expect([...families].filter((family) => !known.has(family))).toEqual(['spray-gun'])
  })

  it('is a station only where the shop counts it', () => {
    const rip = step('rip-strips', 'rip-saw')
    expect(machineFor(rip, almanac)).toBeNull()
    const counted = changeFact(almanac, 'machines.saw', 'yes')
    expect(counted.ok && machineFor(rip, counted.value)?.name).toBe('Table saw')
    expect(counted.ok && machineFor(step('sand', null), counted.value)).toBeNull()
    const again = counted.ok && changeFact(counted.value, 'machines.saw', 'no')
    expect(again && again.ok && again.value.machines).toEqual([])
  })
})

describe('a machine that is counted', () => {
  // Each family of the standard times by the machine that it is set up on: common practice, no source.
  it.each([
    ['drum-sander', ['drum-sander']],
    ['router-table', ['router', 'router-core-box', 'router-cove']],
  ])('%s takes the steps that are set up on it, and no others', (machine, families) => {
    const counted = changeFact(almanac, `machines.${machine}`, 'yes')
    if (!counted.ok) throw new Error(counted.problems[0]?.message)
    const set = STARTING_TIMES.flatMap(({ operation, family }) =>
      family === null || family === undefined ? [] : [[operation, family] as const],
    )
    expect(
      set
        .filter(([operation, family]) => machineFor(step(operation, family), counted.value) !== null)
        .map(([, family]) => family),
    ).toEqual(set.flatMap(([, family]) => (families.includes(family) ? [family] : [])))
    expect(set.filter(([, family]) => families.includes(family)).length).toBeGreaterThan(0)
  })
})

describe('who does what', () => {
  const left = (makerId: string, kinds: readonly string[]) => ({ ...almanac, leftToOthers: { [makerId]: kinds } })

  it('is anyone until somebody leaves work to others', () => {
    expect(ableFor(step('rip-strips', 'rip-saw'), almanac)).toBeNull()
    expect(ableFor(step('rip-strips', 'rip-saw'), left('wren', ['saw']))).toEqual(['ada'])
    expect(ableFor(step('sand', null), left('wren', ['saw']))).toBeNull()
    expect(ableFor(step('glue-up-panel', null), left('wren', ['glue-ups']))).toEqual(['ada'])
    expect(ableFor(step('wipe-coat', null), left('ada', ['finishing']))).toEqual(['wren'])
    expect(ableFor(step('coat', null), left('ada', ['finishing']))).toEqual(['wren'])
  })

  it('leaves a machine that nobody named to those who leave no machine to others', () => {
    expect(ableFor(step('by-machine', null), left('wren', ['saw']))).toEqual(['ada'])
    expect(ableFor(step('by-machine', null), left('wren', ['finishing']))).toBeNull()
    expect(ableFor(step('by-machine', 'planer'), left('wren', ['saw']))).toBeNull()
  })

  it('lends a second pair of hands where those who may are too few', () => {
    expect(ableFor(step('glue-up-panel', null, 2), left('wren', ['glue-ups']))).toBeNull()
  })

  it('is read as it is typed, and typed back', () => {
    const read = readLeftToOthers('saw, Glue-ups; drum sander', 'wren', almanac)
    expect(read).toEqual({ ok: true, value: ['saw', 'glue-ups', 'drum-sander'] })
    expect(read.ok && writeLeftToOthers(read.value)).toBe('table saw, drum sander, glue-ups')
    expect(readLeftToOthers('', 'wren', almanac)).toEqual({ ok: true, value: [] })
    expect(readLeftToOthers('the lathe', 'wren', almanac)).toMatchObject({ ok: false, problems: [{ code: 'work' }] })
  })

  it('never leaves a kind of work to nobody', () => {
    const held = left('ada', ['saw'])
    expect(readLeftToOthers('table saw', 'wren', held)).toMatchObject({ ok: false, problems: [{ code: 'nobody' }] })
    expect(withoutListed(held, 'makers', 'wren')).toMatchObject({ ok: false, problems: [{ code: 'nobody' }] })
    expect(withoutListed(held, 'makers', 'ada')).toMatchObject({ ok: true, value: { leftToOthers: {} } })
  })
})
