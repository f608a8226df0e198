import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type HandChange, withHandChanges } from '../../../core/book/hand-changes-carried.ts'
import type { LotBuild } from '../../../core/constructions/lots.ts'
import type { NetworkLag, NetworkStep } from '../../../core/constructions/step-network.ts'

const step = (key: string): NetworkStep => ({
  ...{ key, operation: key, name: key, note: '', minutes: 30, optimisticMin: 20, pessimisticMin: 60 },
  ...{ units: null, hands: 1, interruptible: true, smallestStretchMin: 10, holds: [], dusty: false, tackyMin: 0 },
  ...{ tackyProduct: null, setUp: null, cautions: [] },
})
const lag = (from: string, to: string, minMin = 0): NetworkLag => ({
  ...{ from, to, wait: minMin === 0 ? 'none' : 'curing', name: '', minMin, optimisticMin: minMin },
  ...{ pessimisticMin: minMin, maxMin: null, remedy: null, product: null, source: '' },
})
const chain = (...keys: string[]): LotBuild => ({
  count: 1,
  steps: keys.map(step),
  lags: keys.slice(1).map((key, at) => lag(keys[at]!, key)),
})
const of = (name: string) => ({ operation: name, name })
const leftOut = (name: string): HandChange => ({ kind: 'left-out', lot: 1, step: of(name) })
const earlier = (name: string, before: string): HandChange => ({
  kind: 'earlier',
  lot: 1,
  ...{ step: of(name), before: of(before) },
})
const names = (lot: LotBuild): string[] => lot.steps.map(({ name }) => name)
const arrows = (lot: LotBuild): string[] => lot.lags.map(({ from, to }) => `${from} ${to}`)

describe('what was done to steps by hand', () => {
  test('stays out of the changed lot, and what waited for it waits for what it waited for, as long', () => {
    const lot = {
      ...chain('mill', 'glue', 'sand', 'coat'),
      lags: [lag('mill', 'glue'), lag('glue', 'sand', 240), lag('sand', 'coat')],
    }
    const made = withHandChanges(lot, [leftOut('sand')])
    expect(names(made)).toEqual(['mill', 'glue', 'coat'])
    expect(made.lags.map(({ from, to, minMin }) => [from, to, minMin])).toEqual([
      ['mill', 'glue', 0],
      ['glue', 'coat', 240],
    ])
  })

  test('is done earlier in the changed lot too, and what came after both waits for both', () => {
    const made = withHandChanges(chain('mill', 'drill', 'sand', 'pack'), [earlier('sand', 'drill')])
    expect(names(made)).toEqual(['mill', 'sand', 'drill', 'pack'])
    expect(arrows(made)).toEqual(expect.arrayContaining(['mill sand', 'sand drill', 'sand pack', 'drill pack']))
    expect(arrows(made)).not.toContain('drill sand')
  })

  test('is left where the changed lot has no such step, or another one before it, or a wait between them', () => {
    const lot = chain('mill', 'glue', 'groove', 'sand')
    expect(withHandChanges(lot, [leftOut('engrave'), earlier('sand', 'glue')])).toEqual(lot)
    const waits = { ...chain('glue', 'sand'), lags: [lag('glue', 'sand', 240)] }
    expect(withHandChanges(waits, [earlier('sand', 'glue')])).toEqual(waits)
  })

  test('never leaves a step that waits for one that is not there, whatever is left out', () => {
    const keys = ['a', 'b', 'c', 'd', 'e', 'f']
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...keys), { maxLength: 5 }), (gone) => {
        const made = withHandChanges(chain(...keys), gone.map(leftOut))
        const left = keys.filter((key) => !gone.includes(key))
        expect(names(made)).toEqual(left)
        expect(arrows(made).sort()).toEqual(left.slice(1).map((key, at) => `${left[at]} ${key}`))
      }),
    )
  })
})
