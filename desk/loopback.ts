import { randomBytes, timingSafeEqual } from 'node:crypto'
import type { Server } from 'node:http'

/** Who opens a connection and then says nothing must not use them up. */
export function limitServer(server: Server): void {
  server.headersTimeout = 10_000
  server.requestTimeout = 60_000
  server.maxConnections = 200
}

/** Listens on the loopback address alone: no other computer reaches it. Port 0: any that is free. */
export const listenOnLoopback = (server: Server, port: number): Promise<void> =>
  new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, '127.0.0.1', () => {
      server.off('error', reject)
      resolve()
    })
  })

export const closeServer = (server: Server): Promise<void> =>
  new Promise((resolve) => {
    server.close(() => resolve())
    server.closeAllConnections()
  })

/** A key that cannot be guessed, of 32 letters that an address may have. */
export const newKey = (): string => randomBytes(24).toString('base64url')

/** In a time that does not tell how much of it was right. */
export function isSame(given: string, wanted: string): boolean {
  const [left, right] = [Buffer.from(given), Buffer.from(wanted)]
  return left.length === right.length && timingSafeEqual(left, right)
}
