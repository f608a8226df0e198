import { closeSync, fsyncSync, openSync } from 'node:fs'

/** Waits until what was written to a file is on the disk. */
export function syncFile(path: string): void {
  const file = openSync(path, 'r+')
  try {
    fsyncSync(file)
  } finally {
    closeSync(file)
  }
}

/** Makes a rename last through a power cut. Windows knows no such thing for folders and needs none. */
export function syncFolder(path: string): void {
  if (process.platform === 'win32') return
  const folder = openSync(path, 'r')
  try {
    fsyncSync(folder)
  } finally {
    closeSync(folder)
  }
}

/** The disk or the database refused: full, broken, no permission. Anything else that is thrown is a bug. */
export const isSystemError = (error: unknown): error is Error & { readonly code: string } =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' && !error.code.startsWith('ERR_')
