import { writeDay, type Wording } from '../../core/time/write-instant.ts'
import { sayMoment } from '../say-time.ts'

/** Since when: `19:20`, `Tue 20:40`; longer than two days ago the day says enough, with its date: `Sat 28 Nov`. */
export const saySince = (atMin: number, nowMin: number, wording: Wording): string =>
  nowMin - atMin > 2 * 24 * 60 ? writeDay(atMin, wording) : sayMoment(atMin, nowMin, wording)
