import type { SpecialDay } from '../../core/almanac/almanac.ts'

export const specialDayWords: Readonly<Record<SpecialDay['kind'], string>> = {
  closed: 'closed',
  fair: 'at a fair',
  extra: 'extra hours',
}
