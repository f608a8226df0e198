import { FILM_FINISH_FIGURES } from './film-finish-figures.ts'
import { OIL_FINISH_FIGURES } from './oil-finish-figures.ts'

/**
 * Published figures for finishes, by class and quantity, about 21 C and 50 % relative humidity, thin coats. The label of
 * the tin always wins.
 */
export const FINISH_FIGURES = { ...FILM_FINISH_FIGURES, ...OIL_FINISH_FIGURES }
