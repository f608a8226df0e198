// What the shop learns from its log. `core/planning` takes times-model alone: the rest stands on the planning types.
export {
  drawTimes,
  isTaught,
  meanRate,
  PRIOR_MISHAPS,
  priorAttendance,
  priorTimes,
  type AttendanceModel,
  type MishapModel,
  type OperationSpread,
  type TimedStep,
  type TimesModel,
} from './times-model.ts'
export { attendanceFrom, type Evenings } from './attendance.ts'
export { readyToWorkOn } from './work-ready.ts'
export { andStarted, pressesOf } from './presses.ts'
export { mishapsFrom } from './mishaps.ts'
export { ordersPerWeek } from './orders-taken.ts'
export { lessSureByRecord, RECORD_FROM, toldAsFourInFive, type CameTrue } from './own-record.ts'
export { estimateTimes, type Said } from './estimate-times.ts'
export { observe, type LeftOutWhy, type LoggedStep, type Observed } from './observations.ts'
export { busiestMaker, yourTime } from './your-times.ts'
export { betaQuantile, type Beta } from '../chance/quantiles.ts'
