import type { Moment } from '../moment.ts'
import type { PieceLabel } from '../piece-label.ts'

/** A station of which more is in use, by what was entered, than there is: something was taken off without a press. */
export interface Overfull {
  readonly name: string
  readonly used: number
  readonly capacity: number
  /** The step that would have freed some: of the piece whose wait has been over for longest; null: none is over. */
  readonly freedBy: { readonly stepId: string; readonly name: string; readonly piece: PieceLabel } | null
}

/** What really happened is never refused, so the log may hold more of a station than there is. */
export const overfullStations = (moment: Moment): Overfull[] =>
  moment.almanac.stations.flatMap(({ id, name, capacity }) => {
    const used = moment.used(id)
    return used <= capacity ? [] : [{ name, used, capacity, freedBy: freedBy(id, moment) }]
  })

function freedBy(station: string, moment: Moment): Overfull['freedBy'] {
  const holders = new Set(moment.places.filter((place) => place.station === station).map(({ stepId }) => stepId))
  const over = moment.lots
    .flatMap((lot) => lot.waits.map((wait) => ({ lot, ...wait })))
    .filter(({ from, to, readyAt }) => {
      const isFreed = from.holds.some(
        (hold) => hold.station === station && hold.until.kind === 'end-of' && hold.until.step === to.key,
      )
      return holders.has(from.id) && isFreed && readyAt !== null && readyAt <= moment.now
    })
    .toSorted((a, b) => (a.readyAt ?? Infinity) - (b.readyAt ?? Infinity))
  const [first] = over
  return first === undefined
    ? null
    : {
        stepId: first.to.id,
        name: first.to.name,
        piece: { ...first.lot.label, count: moment.piecesLeft(first.from) },
      }
}
