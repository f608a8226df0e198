import { join } from 'node:path'
import { projectFolder } from '../run-program.ts'

export const packagesFolder = join(projectFolder, 'packages')

/** Name of the program in a terminal and of its files; people read the product's name. */
export const EXECUTABLE = 'out-of-clamps'

export const MAKERS = 'The makers of Out of Clamps'

/** What package.json says of the program. */
export interface About {
  readonly version: string
  readonly productName: string
  readonly description: string
}

/** File or folder of this version for the system that it is made on, without an ending. */
export const nameHere = ({ version }: About): string => `${EXECUTABLE}-${version}-${process.platform}-${process.arch}`
