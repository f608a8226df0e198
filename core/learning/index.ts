// What the shop learns from its log: outside `core/learning` only this is imported.
export {
  drawTimes,
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
export { betaQuantile, type Beta } from '../chance/quantiles.ts'
