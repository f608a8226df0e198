import type { LengthUnits } from '../lengths/length.ts'
import { ABOVE_DEW_POINT_K, dewPointC } from './dew-point.ts'
import type { Conditions } from './finish-bands.ts'
import type { ProductLimits } from './product.ts'
import { writeCelsius } from './write-celsius.ts'

/** A glue or finish that should not be put on in this air, or that does not go on setting in it. */
export interface AirHold {
  readonly kind: 'hold'
  readonly reason: 'too-cold' | 'too-warm' | 'too-damp'
  /** What is wrong and what would do, in the scale of the shop. */
  readonly message: (units: LengthUnits) => string
}

/** @param does what it does not do in the cold: `does not set` */
export function tooCold(name: string, does: string, celsius: number, limits: ProductLimits): AirHold {
  const where = limits.of === 'glue' ? 'in wood, glue and air' : 'in the wood and the air'
  return {
    kind: 'hold',
    reason: 'too-cold',
    message: (units) =>
      `Too cold: ${name} ${does} at ${writeCelsius(celsius, units)}. It needs ${writeCelsius(limits.coldestC, units)} ${where}${orItsLabel(limits)}.`,
  }
}

export const tooWarm = (name: string, celsius: number, limits: ProductLimits): AirHold => ({
  kind: 'hold',
  reason: 'too-warm',
  message: (units) =>
    `Too warm to put ${name} on at ${writeCelsius(celsius, units)}. Wait until it is under ${writeCelsius(limits.warmestC, units)}${orItsLabel(limits)}.`,
})

export const tooDamp = (name: string, rh: number, limits: ProductLimits): AirHold => ({
  kind: 'hold',
  reason: 'too-damp',
  message: () =>
    `Too damp: at ${percent(rh)} humidity ${name} stays soft or turns white. Warm and air the room until it is under ${percent(limits.dampestRh)}${orItsLabel(limits)}.`,
})

/** Wood that is as warm as the air, and the air near its dew point: a film of water may lie on it. */
export const nearDewPoint = (name: string, { celsius, rh }: Conditions): AirHold => ({
  kind: 'hold',
  reason: 'too-damp',
  message: (units) =>
    `Too damp: at ${writeCelsius(celsius, units)} and ${percent(rh)} humidity the wood may be wet under ${name}. Warm the room until it is ${units === 'inch' ? `${Math.round(ABOVE_DEW_POINT_K * 1.8)} °F` : `${ABOVE_DEW_POINT_K} °C`} above its dew point, ${writeCelsius(dewPointC(celsius, rh), units)}.`,
})

const orItsLabel = ({ fromLabel }: ProductLimits): string => (fromLabel ? '' : ', or what its label says')

const percent = (fraction: number): string => `${Math.round(fraction * 100)}%`
