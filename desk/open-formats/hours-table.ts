import { workAt } from '../../core/book/work-done.ts'
import { localDay } from '../../core/time/local-day.ts'
import { workLogged } from '../../db/work-logged.ts'
import type { OpenShop } from '../open-shop.ts'
import type { CsvTable } from './write-csv.ts'

/** Every stretch of work in the log, oldest first. */
export async function hoursTable(shop: OpenShop): Promise<CsvTable> {
  const { steps, entries } = await workLogged(shop.db)
  const stepOf = new Map(steps.map((step) => [step.id, step]))
  const names = new Map(shop.almanac.makers.map(({ id, name }) => [id, name]))
  const instant = (min: number): string => new Date(min * 60_000).toISOString()
  return {
    columns: ['day', 'order', 'piece', 'operation', 'step', 'maker', 'from', 'to', 'minutes'],
    rows: [...workAt(entries)]
      .flatMap(([stepId, { stretches }]) => stretches.map((stretch) => ({ ...stretch, stepId })))
      .toSorted((a, b) => a.from - b.from)
      .map(({ stepId, makerId, from, to }) => {
        const step = stepOf.get(stepId)
        return [
          localDay(from, shop.almanac.shop.timeZone),
          step?.number ?? null,
          step?.title ?? null,
          step?.operation ?? null,
          step?.name ?? null,
          makerId === null ? null : (names.get(makerId) ?? makerId),
          instant(from),
          instant(to),
          to - from,
        ]
      }),
  }
}
