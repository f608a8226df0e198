import { describe, expect, it } from 'vitest'
import { applicationHold } from '../../../core/waits/application.ts'
import { dewPointC } from '../../../core/waits/dew-point.ts'

describe('the dew point', () => {
  // Psychrometric tables as commonly printed (from memory), to half a degree.
  it.each([
    [20, 0.5, 9.3],
    [25, 0.6, 16.7],
    [30, 0.8, 26.2],
    [10, 0.7, 4.8],
    [0, 1, 0],
  ])('at %d C and %d is %d C', (celsius, rh, expected) => {
    expect(Math.abs(dewPointC(celsius, rh) - expected)).toBeLessThan(0.5)
  })

  it('keeps a finish off wood that it is within 3 C of, and says how far to warm the room', () => {
    const varnish = { class: 'oil_polyurethane', name: 'Varnish', label: {} }
    expect(applicationHold(varnish, { celsius: 20, rh: 0.82 })).toBeNull()
    const hold = applicationHold(varnish, { celsius: 20, rh: 0.84 })
    expect(hold?.reason).toBe('too-damp')
    expect(hold?.message('inch')).toBe(
      'Too damp: at 68 °F and 84% humidity the wood may be wet under Varnish. Warm the room until it is 5 °F above its dew point, 63 °F.',
    )
  })

  it('does not matter to glue, nor to an oil that never hardens', () => {
    for (const name of ['pva_type2', 'mineral_oil_wax'])
      expect(applicationHold({ class: name, name, label: {} }, { celsius: 20, rh: 0.9 })).toBeNull()
  })
})
