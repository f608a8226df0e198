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
