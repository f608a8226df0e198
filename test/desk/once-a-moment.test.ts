import { expect, test, vi } from 'vitest'
import type { Commission } from '../../core/book/book.ts'
import type { Moment } from '../../desk/moment.ts'
import { onceAMoment, onceAnOrder } from '../../desk/once-a-moment.ts'

const [now, later] = [{ now: 1 }, { now: 2 }] as unknown as [Moment, Moment]
const [ada, ben] = [{ number: 7 }, { number: 9 }] as Commission[]

test('what follows from a moment is worked out once for it, also where that is nothing, and anew for another one', () => {
  const find = vi.fn(({ now }: Moment) => (now === 1 ? undefined : now))
  const known = onceAMoment(find)
  expect([known(now), known(later), known(now), known(later)]).toEqual([undefined, 2, undefined, 2])
  expect(find).toHaveBeenCalledTimes(2)
})

test('what follows for an order is worked out once for each order and moment', () => {
  const find = vi.fn(({ number }: Commission, { now }: Moment) => number * 10 + now)
  const known = onceAnOrder(find)
  const all = () => [known(ada!, now), known(ben!, now), known(ada!, later)]
  expect(all()).toEqual([71, 91, 72])
  expect(all()).toEqual([71, 91, 72])
  expect(find).toHaveBeenCalledTimes(3)
})
