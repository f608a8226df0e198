import { z } from 'zod'
import { isDayOfThisAge } from '../core/time/local-day.ts'

// Forms that several use cases read.

export const id = z.string().min(1).max(64)
export const text = z.string().max(2000)
export const day = z.string().refine(isDayOfThisAge, 'This is not a day: pick one, or type it like Dec 12.')
export const short = z.string().max(200)
export const mostFields = 100
export const fewFields = (record: object): boolean => Object.keys(record).length <= mostFields
export const tooManyFields = `This has more than ${mostFields} fields: take some out.`
export const specRow = z
  .record(z.string().max(64), z.union([z.string().max(400), z.boolean()]))
  .refine(fewFields, tooManyFields)
/** What stands in the fields of a construction's form. */
export const specInput = z
  .record(z.string().max(64), z.union([z.string().max(400), z.boolean(), z.array(specRow).max(200).readonly()]))
  .refine(fewFields, tooManyFields)
export const listedId = z.string().max(64)
export const lumberSource = z.enum(['counted', 'shop', 'yard', 'customer'])
