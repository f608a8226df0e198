import { expect, test } from 'vitest'
import {
  betaQuantile,
  drawTimes,
  meanRate,
  PRIOR_MISHAPS,
  priorAttendance,
  priorTimes,
  type AttendanceModel,
  type Beta,
  type MishapModel,
  type OperationSpread,
  type TimedStep,
  type TimesModel,
} from '../../../core/learning/index.ts'

const operations: readonly OperationSpread[] = [{ id: 'rip', optimisticFactor: 0.75, pessimisticFactor: 1.5 }]
const model: TimesModel = priorTimes(['wren'], operations)
const step: TimedStep = { id: 's1', operation: 'rip', commission: 'c1', maker: 'wren' }
/** The factor on a step in a single replication, by the luck of what it is made of. */
const factorBy =
  (times: TimesModel, luckOf: (name: string) => number) =>
  (asked: TimedStep): number =>
    drawTimes(times, 1, (name) => Float64Array.of(luckOf(name)))(asked)[0]!
const even = (): number => 0.5

test('with even luck everything takes its standard time, also what nobody has heard of', () => {
  const factor = factorBy(model, even)
  expect(factor(step)).toBeCloseTo(1, 12)
  expect(factor({ ...step, operation: 'carve', maker: undefined })).toBeCloseTo(1, 12)
})

test('a slow maker is slow at everything, an odd order only at its own steps', () => {
  const factor = factorBy(model, (name) => (name === 'maker wren' || name === 'order c2' ? 0.8413447 : 0.5))
  expect(factor(step)).toBeCloseTo(Math.exp(0.3), 5)
  expect(factor({ ...step, id: 's2', operation: 'carve' })).toBeCloseTo(Math.exp(0.3), 5)
  expect(factor({ ...step, id: 's3', commission: 'c2' })).toBeCloseTo(Math.exp(0.42), 5)
})

test('no step is drawn to take years of evenings: with the worst of luck ten times what is usual, with the best a tenth of it', () => {
  const by = (luck: number): number => factorBy(model, (name) => (name === 'step s1' ? luck : 0.5))(step)
  expect(by(1 - 1e-12)).toBeCloseTo(10, 9)
  expect(by(1e-12)).toBeCloseTo(1 / 10, 9)
  // One in ten is as it was (t of 4 degrees of freedom at 0.9: 1.533206, any table): the bound cuts the last thousandths off.
  expect(by(0.9)).toBeCloseTo(Math.exp(0.25 * 1.533206), 5)
})

test('what is not known of a maker and of an operation is drawn together', () => {
  const known = {
    ...model,
    operations: [{ ...model.operations[0]!, loadings: [-0.3, 0.1] }],
  }
  const factor = factorBy(known, (name) => (name === 'maker wren' ? 0.99 : 0.5))
  expect(factor(step)).toBeCloseTo(1, 12)
})

test('before anything is logged somebody who says nine evenings in ten is believed', () => {
  const attendance: AttendanceModel = priorAttendance([{ id: 'wren', attendance: 0.9 }])
  const [wren] = attendance.makers
  expect(wren!.rate.alpha).toBeCloseTo(18)
  expect(wren!.rate.beta).toBeCloseTo(2)
  expect(meanRate(wren!.rate)).toBeCloseTo(0.9)
})

test('one glue-up in fifty fails, as far as anybody knows, but it may well be one in thirty', () => {
  const mishaps: MishapModel = PRIOR_MISHAPS
  const glueUp: Beta = mishaps.glueUp
  expect(meanRate(glueUp)).toBe(1 / 50)
  expect(betaQuantile(glueUp, 0.9)).toBeGreaterThan(1 / 30)
})
