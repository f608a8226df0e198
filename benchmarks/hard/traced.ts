import { spawnSync } from 'node:child_process'

/** Whether this machine has `strace`, by which system calls are watched and made to fail. */
export const hasStrace = (): boolean => spawnSync('strace', ['-V']).status === 0

/** System calls by which SQLite writes. */
export const WRITING = ['pwrite64', 'fsync', 'fdatasync', 'ftruncate', 'unlink'] as const

/** Nothing was tried. */
export const NO_STRACE = { runs: 0, said: 'not tried: strace is not on this machine', broken: [] }
