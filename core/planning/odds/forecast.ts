import type { AttendanceModel, MishapModel, TimesModel } from '../../learning/times-model.ts'

/** What is known ahead of how work, evenings and mishaps turn out: of this shop's log, or what is believed before there is one. */
export interface Forecast {
  readonly times: TimesModel
  readonly attendance: AttendanceModel
  readonly mishaps: MishapModel
  /** Orders that are taken in a week. */
  readonly ordersPerWeek: number
  /** How much less sure than the model the shop's own record is, in standard deviations; 0: as sure. */
  readonly lessSure: number
}
