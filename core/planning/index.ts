// The planner's only door: whoever is outside `core/planning` imports from here, and from nothing behind it.
export type {
  AnnouncedStart,
  BindingChain,
  CureClock,
  Hold,
  Interval,
  Lag,
  Plan,
  PlanCommission,
  PlanMaker,
  PlannedStep,
  PlanningProblem,
  PlanStation,
  PlanStep,
  StepState,
  WaitKind,
} from './problem/model.ts'
export { withNewWork } from './problem/new-work.ts'
export { compareObjectives } from './rules/measured.ts'
export { improve, type Progress } from './search/improve.ts'
export { plan } from './search/plan.ts'
export { aimOf, PATIENCE_MIN } from './quote/aim.ts'
export { chanceAloneBy, chanceBy } from './quote/answers.ts'
export type { Addition, LateBy, LostDate, NewWork, Odds, OfferKind, PromiseChance, Tonight } from './quote/answers.ts'
export { doneAt, fittedIn, planByOf } from './quote/fitted-in.ts'
export type { Looking } from './quote/fitting.ts'
export { PlanGuard } from './quote/plan-guard.ts'
export { quote, type QuoteOptions } from './quote/quote.ts'
export type { Forecast } from './odds/forecast.ts'
export { simulate } from './odds/simulate.ts'
export { whatWouldHelp } from './reasons/help.ts'
export { whatWouldHelpPromise } from './reasons/help-promise.ts'
export { benchList } from './reasons/bench-list.ts'
export { keepsDustDown } from './reasons/dust-before-finish.ts'
export { tonight } from './reasons/tonight.ts'
export { bindingChain } from './reasons/why.ts'
export { chainWords, helpWords } from './reasons/words.ts'
