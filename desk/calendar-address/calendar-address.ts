import { readFileSync, renameSync, writeFileSync } from 'node:fs'
import { type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { z } from 'zod'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { closeServer, isSame, limitedServer, listenOnLoopback, newKey } from '../loopback.ts'
import { settingNotKept } from '../setting-not-kept.ts'

export interface CalendarAddressView {
  readonly isOn: boolean
  /** What a calendar subscribes to; null while it is off. */
  readonly address: string | null
  /** Why it is switched on and does not answer; null: it does. */
  readonly inTheWay: string | null
}

/** Stays on this computer: it is no part of the shop, and is not taken along. */
const Kept = z.strictObject({ port: z.int().min(1).max(65_535), key: z.string().min(32).max(64) })

/**
 * The calendar at an address on this computer, for calendars to subscribe to. Off until it is switched on; read-only; on the loopback
 * address alone; the key in it is all that lets anybody read, and a new one ends the old. The same in the window and in browser mode.
 */
export class CalendarAddress {
  readonly #file: string
  readonly #write: () => Promise<string | null>
  #server: Server | null = null
  #kept: z.output<typeof Kept> | null = null

  /** @param write the calendar as it is now; null: the shop is not open */
  constructor(dataFolder: string, write: () => Promise<string | null>) {
    this.#file = join(dataFolder, 'calendar-address.json')
    this.#write = write
  }

  /** Answers again where it did before. A port that somebody else has by now is told on the page; the app opens all the same. */
  async open(): Promise<void> {
    this.#kept = this.#read()
    if (this.#kept !== null) await this.#listen(this.#kept.port)
  }

  view(): CalendarAddressView {
    const kept = this.#kept
    if (kept === null) return { isOn: false, address: null, inTheWay: null }
    const isUp = this.#server !== null
    return {
      isOn: true,
      address: `http://127.0.0.1:${kept.port}/${kept.key}/calendar.ics`,
      inTheWay: isUp ? null : 'Another program has its port. Make a new address and subscribe to that.',
    }
  }

  /** Switches it on, or makes a new address where it is on: the one from before is good no more. Problems: `no-port`, `setting-not-kept`. */
  async makeNew(): Promise<Result<CalendarAddressView>> {
    const port = this.#server === null ? await this.#listen(0) : (this.#kept?.port ?? null)
    if (port === null)
      return failed(problem('no-port', 'This computer gives the calendar no port. Restart it and try again.'))
    try {
      this.#keep({ port, key: newKey() })
    } catch (error) {
      // Where it was off it stays off.
      if (this.#kept === null) await this.close()
      return settingNotKept(error)
    }
    return ok(this.view())
  }

  /** Problem: `setting-not-kept`, and it stays on. */
  async switchOff(): Promise<Result<CalendarAddressView>> {
    try {
      this.#keep(null)
    } catch (error) {
      return settingNotKept(error)
    }
    await this.close()
    return ok(this.view())
  }

  async close(): Promise<void> {
    const server = this.#server
    this.#server = null
    if (server !== null) await closeServer(server)
  }

  /** @returns the port; null where it cannot be had */
  async #listen(port: number): Promise<number | null> {
    const server = limitedServer((request, response) => {
      this.#answer(request, response).catch((fault: unknown) => {
        console.error('Fault while writing the calendar:', fault)
        if (response.headersSent) response.destroy()
        else refuse(response, 500)
      })
    })
    try {
      await listenOnLoopback(server, port)
    } catch (fault) {
      console.error('The calendar has no port:', fault)
      return null
    }
    // It is no reason for the app to stay open.
    server.unref()
    this.#server = server
    return (server.address() as AddressInfo).port
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { method = '', url = '', headers } = request
    const kept = this.#kept
    // Under another name it is a page that found out the address of this computer (DNS rebinding); pages send an origin.
    const isForeign = headers.host !== `127.0.0.1:${kept?.port ?? 0}` && headers.host !== `localhost:${kept?.port ?? 0}`
    if (isForeign || headers.origin !== undefined) return refuse(response, 403)
    if (!['none', undefined].includes(headers['sec-fetch-site'] as string | undefined)) return refuse(response, 403)
    if (method !== 'GET' && method !== 'HEAD') return refuse(response, 405, { allow: 'GET, HEAD' })
    if (kept === null || !isSame(url, `/${kept.key}/calendar.ics`)) return refuse(response, 404)
    const calendar = await this.#write()
    if (calendar === null) return refuse(response, 503)
    const body = Buffer.from(calendar)
    response
      .writeHead(200, {
        ...{ 'content-type': 'text/calendar; charset=utf-8', 'content-length': body.length },
        ...{ 'cache-control': 'no-store', 'x-content-type-options': 'nosniff', 'referrer-policy': 'no-referrer' },
      })
      .end(method === 'HEAD' ? undefined : body)
  }

  #read(): z.output<typeof Kept> | null {
    try {
      const read = Kept.safeParse(JSON.parse(readFileSync(this.#file, 'utf8')))
      return read.success ? read.data : null
    } catch {
      return null
    }
  }

  /** As a whole or not at all, for this user alone. */
  #keep(kept: z.output<typeof Kept> | null): void {
    writeFileSync(`${this.#file}.new`, JSON.stringify(kept), { mode: 0o600 })
    renameSync(`${this.#file}.new`, this.#file)
    this.#kept = kept
  }
}

function refuse(response: ServerResponse, status: number, more: Record<string, string> = {}): void {
  response.writeHead(status, { ...more, 'content-length': 0, connection: 'close' }).end()
}
