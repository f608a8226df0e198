import { z } from 'zod'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { hoursOfDay } from './shop.ts'
import { DEVELOPMENT_WORLD, type World } from './world.ts'

const share = z.number().min(0).max(1)
const positive = z.number().positive()
const spread = z.number().min(0).max(3)
const range = (one: z.ZodNumber) =>
  z.tuple([one, one]).refine(([least, most]) => least <= most, 'write the smaller value first')

const piece = z.strictObject({
  weight: positive,
  construction: z.string(),
  count: z.int().min(1).max(20),
  input: z.record(z.string(), z.union([z.string(), z.boolean(), z.array(z.string()).min(1)])),
})

const world: z.ZodType<World> = z.strictObject({
  name: z.string().min(1),
  orders: z.strictObject({
    perWeek: positive,
    perWeekOpenDoor: positive,
    season: spread,
    mix: z.array(piece).min(1),
  }),
  customers: z.strictObject({
    ...{ needWeeks: positive, needSpread: spread, fixedDay: share, december: share, changesSize: share },
    sizeChange: range(positive),
  }),
  minutes: z.strictObject({
    ...{ makerMean: z.number().min(-2).max(2), makerSpread: spread, operationSpread: spread },
    ...{ orderSpread: spread, stepSpread: spread, stepFreedom: z.int().min(3).max(100).nullable() },
  }),
  evenings: z.strictObject({
    hours: z
      .record(
        z.string(),
        z.string().refine((hours) => hoursOfDay(hours) !== null, 'write hours like 19:00-21:30, from before to'),
      )
      .refine(
        (hours) => Object.keys(hours).every((weekday) => /^[1-7]$/.test(weekday)),
        'write weekdays as 1 for Monday to 7 for Sunday',
      ),
    ...{ almanacAttendance: share.positive(), attendance: range(share), lostWeek: share },
    ...{ lateUpToMin: z.number().min(0).max(600), closesEarly: share },
  }),
  answers: z.strictObject({ timesSpread: spread, attendanceOff: share }).nullable(),
  waits: z.strictObject({ temperatureOff: z.number().min(0).max(15), factor: positive }),
  mishaps: z.strictObject({ glueUp: share, againFactor: positive, crack: share }),
  pressing: z.strictObject({ noStart: share, late: share, lateMin: z.number().min(0), pauseForgotten: share }),
})

/**
 * Reads a file of worlds: `{ "worlds": [{ "name": "...", ... }] }`. Each has the fields of `World` in world.ts; what is left out is as in
 * the development world, what nobody knows is refused. Problems name the field, as `worlds.0.evenings.attendance`.
 */
export function readWorlds(text: string): Result<readonly World[]> {
  let data: unknown
  try {
    data = JSON.parse(text)
  } catch (fault) {
    return failed(problem('not-json', `This is not JSON: ${fault instanceof Error ? fault.message : String(fault)}.`))
  }
  if (!isRecord(data) || !Array.isArray(data['worlds']) || data['worlds'].length === 0)
    return failed(problem('world', 'Give the worlds as { "worlds": [{ "name": ... }] }, one at least.', 'worlds'))
  const read = z
    .strictObject({ worlds: z.array(world) })
    .safeParse({ ...data, worlds: data['worlds'].map(overDevelopment) })
  if (read.success) return ok(read.data.worlds)
  return failed(
    ...read.error.issues.map(({ path, message }) => {
      const field = path.map(String).join('.')
      return problem('world', `${field === '' ? 'The file' : field}: ${message}.`, field)
    }),
  )
}

/** What is written, with what is not written as in the development world, but for the name. */
function overDevelopment(written: unknown): unknown {
  if (!isRecord(written)) return written
  const { name: _, ...usual } = DEVELOPMENT_WORLD
  const over = Object.entries(usual).map(([section, values]) => {
    const given = written[section]
    return [section, given === undefined ? values : isRecord(given) ? { ...values, ...given } : given]
  })
  return { ...written, ...Object.fromEntries(over) }
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
