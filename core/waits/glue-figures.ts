import { PVA_AND_HIDE_FIGURES } from './pva-and-hide-figures.ts'
import { REACTIVE_GLUE_FIGURES } from './reactive-glue-figures.ts'

/**
 * Published figures for glues, by class and quantity, about 21 C (70 F) unless said. Makers of one class disagree by two to
 * eight times: the label of the bottle always wins.
 */
export const GLUE_FIGURES = { ...PVA_AND_HIDE_FIGURES, ...REACTIVE_GLUE_FIGURES }
