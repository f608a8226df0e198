import { EARLIEST, LATEST } from './instants.ts'

export const isWhole = (value: number, least: number, most: number = LATEST): boolean =>
  Number.isInteger(value) && value >= least && value <= most

export const isInstant = (value: number): boolean => isWhole(value, EARLIEST)

export const isMinutes = (value: number): boolean => isWhole(value, 0)
