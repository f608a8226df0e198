import { join } from 'node:path'
import { projectFolder } from '../run-program.ts'

export const packagesFolder = join(projectFolder, 'packages')

/** Name of the program in a terminal and of its files; people read the product's name. */
export const EXECUTABLE = 'out-of-clamps'
