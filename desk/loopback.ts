import { randomBytes, timingSafeEqual } from 'node:crypto'
import { createServer, type RequestListener, type Server } from 'node:http'

/** A server whose connections nobody uses up who opens one and then says nothing. Node looks for these twice a minute unless told. */
export function limitedServer(answer: RequestListener): Server {
  const server = createServer(
    { headersTimeout: 10_000, requestTimeout: 60_000, connectionsCheckingInterval: 1_000 },
    answer,
  )
  server.maxConnections = 200
  return server
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
