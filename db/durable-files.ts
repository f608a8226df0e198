import { closeSync, fsyncSync, openSync } from 'node:fs'
import { open } from 'node:fs/promises'

/** Waits until what was written to a file is on the disk. */
export function syncFile(path: string): void {
  const file = openSync(path, 'r+')
  try {
    fsyncSync(file)
  } finally {
    closeSync(file)
  }
}

/** The same of a large file, while other work goes on. */
export async function syncFileBeside(path: string): Promise<void> {
  const file = await open(path, 'r+')
  try {
    await file.sync()
  } finally {
    await file.close()
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
