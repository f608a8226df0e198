import { Agent, request } from 'node:https'
import { connect, type TLSSocket } from 'node:tls'
import { join } from 'node:path'
import { expect } from 'vitest'
import type { Right } from '../../../db/kept-devices.ts'
import type { Reply } from '../../../desk/procedure.ts'
import { doorOn } from '../../../electron/at-the-bench/door.ts'
import { aDesk, aDraft, type TestDesk } from '../../desk/support/a-desk.ts'

export interface Answer {
  readonly status: number
  readonly text: string
  readonly cookie: string | undefined
}

export interface Sent {
  readonly method?: 'GET' | 'POST' | 'DELETE'
  readonly path: string
  readonly headers?: Readonly<Record<string, string>>
  readonly body?: unknown
  /** Keeps the connection for the next request; without, each makes one of its own. */
  readonly agent?: Agent
}

export interface OpenDoorDesk extends TestDesk {
  readonly url: string
  readonly port: number
  readonly send: (sent: Sent) => Promise<Answer>
  /** A paired device: its way to the desk. */
  readonly pair: (name: string, right: Right) => Promise<Phone>
  readonly newCode: (name: string, right: Right) => Promise<string>
  readonly postCode: (code: string) => Promise<Answer>
}

export interface Phone {
  readonly cookie: string
  readonly call: (name: string, input?: unknown, press?: unknown) => Promise<Reply<unknown>>
  readonly send: (sent: Sent) => Promise<Answer>
  /** Opens its stream of events. */
  readonly listen: () => Promise<Stream>
}

export interface Stream {
  readonly status: number
  /** All that has come so far. */
  readonly text: () => string
  readonly ended: Promise<unknown>
}

export const pages = join(import.meta.dirname, '../../../renderer')

/** A desk with one order in it and its door open on the loopback address. */
export async function aDeskWithDoor(folder?: string): Promise<OpenDoorDesk> {
  const shop = await aDesk({ openDoor: doorOn(pages), ...(folder === undefined ? {} : { folder }) })
  if (folder === undefined) await shop.ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  const { url } = await shop.ask.devicesOn({ address: '127.0.0.1' })
  if (url === null) throw new Error('nothing listens')
  const port = Number(new URL(url).port)
  const send = (sent: Sent): Promise<Answer> => sendTo(port, sent)
  const newCode = async (name: string, right: Right): Promise<string> => {
    const { offered } = await shop.ask.deviceCode({ name, right })
    return offered?.code ?? ''
  }
  const postCode = (code: string): Promise<Answer> => send({ method: 'POST', path: '/pair', body: { code } })
  return {
    ...{ ...shop, url, port, send, newCode, postCode },
    pair: async (name, right) => {
      const answer = await postCode(await newCode(name, right))
      expect(answer).toMatchObject({ status: 200, text: '{"ok":true,"value":null}' })
      return phoneWith(port, (answer.cookie ?? '').split(';')[0] ?? '')
    },
  }
}

export function phoneWith(port: number, cookie: string): Phone {
  const send = (sent: Sent): Promise<Answer> => sendTo(port, { ...sent, headers: { cookie, ...sent.headers } })
  return {
    ...{ cookie, send },
    listen: () => listenTo(port, cookie),
    call: async (name, input = {}, press = undefined) => {
      const { status, text } = await send({ method: 'POST', path: '/call', body: { name, input, press } })
      if (status !== 200) throw new Error(`${status}: ${text}`)
      return JSON.parse(text) as Reply<unknown>
    },
  }
}

/** What a browser on this address would send, but for what is given. */
function sendTo(port: number, { method = 'GET', path, headers = {}, body, agent }: Sent): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = request(
      {
        ...{ host: '127.0.0.1', port, path, method, agent: agent ?? false, rejectUnauthorized: false },
        headers: {
          ...(method === 'GET' ? {} : { origin: `https://127.0.0.1:${port}`, 'content-type': 'application/json' }),
          ...headers,
        },
      },
      (response) => {
        let text = ''
        response.on('data', (part: Buffer) => (text += part.toString()))
        response.on('error', reject)
        response.on('end', () =>
          resolve({ status: response.statusCode ?? 0, text, cookie: response.headers['set-cookie']?.[0] }),
        )
      },
    )
    asked.on('error', reject)
    asked.end(body === undefined ? undefined : JSON.stringify(body))
  })
}

function listenTo(port: number, cookie: string): Promise<Stream> {
  return new Promise((resolve, reject) => {
    const to = { host: '127.0.0.1', port, path: '/events', agent: false, rejectUnauthorized: false }
    const asked = request({ ...to, headers: { cookie } }, (response) => {
      let text = ''
      response.on('data', (part: Buffer) => (text += part.toString()))
      response.on('error', () => undefined)
      const ended = new Promise((done) => response.on('close', done))
      resolve({ status: response.statusCode ?? 0, text: () => text, ended })
    })
    asked.on('error', reject)
    asked.end()
  })
}

/** A bare TLS connection, for who does not speak as browsers do. */
export function connectTo(port: number): Promise<TLSSocket> {
  return new Promise((resolve, reject) => {
    const socket = connect({ host: '127.0.0.1', port, rejectUnauthorized: false }, () => resolve(socket))
    socket.once('error', reject)
  })
}
