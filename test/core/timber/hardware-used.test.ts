import { describe, expect, it } from 'vitest'
import { hardwareUsed } from '../../../core/timber/hardware-used.ts'

const step = (operation: string, doneAt: number | null, lost = false) => ({ operation, doneAt, lost })
const hinges = { name: 'Hinges, 1 1/2"', quantity: 2, note: '' }
const screws = { name: 'Screws, no. 8 x 1 1/4"', quantity: 8, note: '' }

describe('hardware', () => {
  it('is taken when the step is done that puts it on', () => {
    const steps = [step('fit-lid', 5), step('fit-hinges', null), step('inspect-and-pack', null)]
    expect(hardwareUsed([hinges], steps)).toEqual([])
    expect(hardwareUsed([hinges], [step('fit-hinges', 7), step('inspect-and-pack', null)])).toEqual([
      { product: 'fitting:hinges', amount: 2, atMin: 7 },
    ])
  })

  it('without a step of its own goes on with the last one that fits something, else with the last', () => {
    expect(hardwareUsed([screws], [step('fit-top', 5), step('wipe-coat', 9)])).toMatchObject([{ atMin: 5 }])
    expect(hardwareUsed([screws], [step('sand', 5), step('inspect-and-pack', 9)])).toMatchObject([{ atMin: 9 }])
  })

  it('comes off what failed, and what has no price list of its own is not counted', () => {
    expect(hardwareUsed([hinges], [step('fit-hinges', 3, true), step('fit-hinges', 8)])).toMatchObject([{ atMin: 8 }])
    expect(hardwareUsed([{ ...hinges, name: 'Lid stay' }], [step('fit-hinges', 8)])).toEqual([])
  })
})
