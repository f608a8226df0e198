import { spawn } from 'node:child_process'
import { available, missing, type Means } from './means.ts'

export interface Display {
  readonly env: Readonly<Record<string, string>>
  close(): void
}

/** A display to open windows on: an invisible one of our own on Linux, so that tests neither need nor disturb a desktop. */
export function openDisplay(): Promise<Means<Display>> {
  if (process.platform !== 'linux') return Promise.resolve(available({ env: {}, close: () => undefined }))
  return new Promise((resolve) => {
    const server = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '2560x1600x24', '-nolisten', 'tcp'], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
    })
    server.once('error', () => resolve(missing('there is no Xvfb to open a window on')))
    server.once('exit', (code) => resolve(missing(`Xvfb ended with ${code}`)))
    server.stdio[3]?.once('data', (number: Buffer) =>
      resolve(available({ env: { DISPLAY: `:${number.toString().trim()}` }, close: () => server.kill() })),
    )
  })
}
