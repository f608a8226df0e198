import { createHash, randomBytes, randomUUID, timingSafeEqual } from 'node:crypto'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { isSystemError } from '../../db/durable-files.ts'
import {
  type Device,
  type Identity,
  type KeptDevices,
  readKeptDevices,
  type Right,
  writeKeptDevices,
} from '../../db/kept-devices.ts'
import type { Door, OpenDoor, Visitors } from './door.ts'
import type { NetworkHere } from './networks-here.ts'
import { PairingCode } from './pairing-code.ts'

/** A maker's phones and a tablet in the shop; more than this is somebody else. */
const MOST_DEVICES = 10

/** Phones and tablets at the bench, as the desk shows them. */
export interface DevicesView {
  /** Switched on by the maker; `url` says whether anything listens. */
  readonly isOn: boolean
  readonly networks: readonly Omit<NetworkHere, 'prefix'>[]
  /** `https://192.168.1.4:43127`; null: nothing listens. */
  readonly url: string | null
  /** SHA-256 of the shop's certificate: pairs of hexadecimal digits with colons. */
  readonly fingerprint: string | null
  readonly problems: readonly Problem[]
  /** The code that is good at the moment; `url` is what a camera reads. */
  readonly offered: {
    readonly code: string
    readonly name: string
    readonly untilMs: number
    readonly url: string
  } | null
  readonly devices: readonly Omit<Device, 'keyHash'>[]
}

export interface DevicesOptions {
  readonly dataFolder: string
  readonly clockMs: () => number
  /** Networks that may be chosen. */
  readonly networks: () => readonly NetworkHere[]
  /** Null: this shell has no door. */
  readonly openDoor: OpenDoor | null
  readonly visitors: Pick<Visitors, 'call' | 'onEvent'>
  readonly changed: () => void
}

/**
 * Phones and tablets at the bench: nothing listens until the maker switches it on, then on the one address that was chosen.
 * A device comes in by a code that is good once and is given a key of its own, of which only the hash is kept here.
 */
export class Devices {
  readonly #options: DevicesOptions
  readonly #code = new PairingCode()
  #kept: KeptDevices
  #door: Door | null = null
  #problem: Problem | null = null
  #last: Promise<unknown> = Promise.resolve()

  constructor(options: DevicesOptions) {
    this.#options = options
    this.#kept = readKeptDevices(options.dataFolder)
  }

  /** Opens the door where it was left switched on. */
  begin(): Promise<void> {
    return this.#inTurn(async () => {
      if (this.#kept.isOn) await this.#open()
    })
  }

  close(): Promise<void> {
    return this.#inTurn(() => this.#shut())
  }

  view(): DevicesView {
    const { isOn, address, identity, devices } = this.#kept
    const offered = this.#code.offered(this.#options.clockMs())
    const door = this.#door
    return {
      isOn,
      networks: this.#options.networks().map(({ name, address }) => ({ name, address })),
      url: door === null ? null : `https://${address}:${door.port}`,
      fingerprint: identity === null ? null : (identity.fingerprint.match(/.{2}/g) ?? []).join(':').toUpperCase(),
      problems: this.#problem === null ? [] : [this.#problem],
      offered:
        offered === null || door === null
          ? null
          : {
              ...{ code: offered.code, name: offered.name, untilMs: offered.untilMs },
              url: `https://${address}:${door.port}/#/pair/${offered.code}`,
            },
      devices: devices.map(({ id, name, right, pairedAtMs }) => ({ id, name, right, pairedAtMs })),
    }
  }

  /** Problem at `address`: not one of this computer's. */
  switchOn(address: string): Promise<Result<null>> {
    return this.#inTurn(async () => {
      if (!this.#options.networks().some((each) => each.address === address))
        return failed(problem('no-network', 'This computer is not on that network now. Pick another.', 'address'))
      await this.#shut()
      const kept = this.#keep({ ...this.#kept, isOn: true, address })
      if (!kept.ok) return kept
      await this.#open()
      return this.#problem === null ? ok(null) : failed(this.#problem)
    })
  }

  switchOff(): Promise<Result<null>> {
    return this.#inTurn(async () => {
      this.#code.withdraw()
      await this.#shut()
      this.#problem = null
      return this.#keep({ ...this.#kept, isOn: false })
    })
  }

  offerCode(typed: string, right: Right): Result<null> {
    const name = typed.trim()
    if (this.#door === null) return failed(problem('switched-off', 'Switch it on first.'))
    if (name === '') return failed(problem('too-small', 'Type a name, such as Phone.', 'name'))
    if (this.#kept.devices.some((each) => each.name.toLowerCase() === name.toLowerCase()))
      return failed(problem('taken', 'There is a device of that name. Type another.', 'name'))
    if (this.#kept.devices.length >= MOST_DEVICES) return failed(tooMany)
    this.#code.offer(name, right, this.#options.clockMs())
    return ok(null)
  }

  /** Its key is good no more from this moment on, whatever it has open is ended. */
  revoke(id: string): Result<null> {
    const done = this.#keep({ ...this.#kept, devices: this.#kept.devices.filter((each) => each.id !== id) })
    this.#door?.turnAway(id)
    return done
  }

  readonly #visitors: Pick<Visitors, 'pair' | 'deviceOf'> = {
    pair: (typed) => {
      const { clockMs, changed } = this.#options
      const taken = this.#code.take(typed, clockMs())
      if (!taken.ok) return taken
      if (this.#kept.devices.length >= MOST_DEVICES) return failed(tooMany)
      const key = randomBytes(32).toString('base64url')
      const { name, right } = taken.value
      const device = { id: randomUUID(), name, right, keyHash: hashOf(key), pairedAtMs: clockMs() }
      const kept = this.#keep({ ...this.#kept, devices: [...this.#kept.devices, device] })
      changed()
      return kept.ok ? ok({ key }) : kept
    },
    deviceOf: (key) => {
      const given = Buffer.from(hashOf(key))
      let found: Device | null = null
      // All are compared, so that the time taken tells nothing.
      for (const device of this.#kept.devices) {
        const wanted = Buffer.from(device.keyHash)
        if (wanted.length === given.length && timingSafeEqual(given, wanted)) found = device
      }
      return found
    },
  }

  async #open(): Promise<void> {
    const { openDoor, visitors } = this.#options
    if (openDoor === null) return
    const { address } = this.#kept
    const network = this.#options.networks().find((each) => each.address === address)
    if (network === undefined) {
      this.#problem = problem('no-network', `This computer is not on the network of ${address} now: pick one again.`)
      return
    }
    try {
      const identity = await this.#identityFor(address)
      const { certificate, privateKey } = identity
      const all: Visitors = { ...visitors, ...this.#visitors }
      const plan = { address, prefix: network.prefix, certificate, privateKey }
      this.#door = await openDoor({ ...plan, port: this.#kept.port }, all).catch((error: unknown) => {
        // The port of last time is somebody else's now.
        if (isSystemError(error) && error.code === 'EADDRINUSE') return openDoor({ ...plan, port: 0 }, all)
        throw error
      })
      const kept = this.#keep({ ...this.#kept, identity, port: this.#door.port })
      this.#problem = kept.ok ? null : (kept.problems[0] ?? null)
    } catch (error) {
      if (!isSystemError(error)) throw error
      this.#problem = problem('not-listening', `${address} cannot be used (${error.message}): pick another network.`)
    }
  }

  async #identityFor(address: string): Promise<Identity> {
    const { identity } = this.#kept
    const nowMs = this.#options.clockMs()
    if (identity?.address === address && identity.untilMs > nowMs) return identity
    const { makeIdentity } = await import('./certificate.ts')
    return makeIdentity(address, nowMs)
  }

  async #shut(): Promise<void> {
    const door = this.#door
    this.#door = null
    await door?.close()
  }

  #keep(kept: KeptDevices): Result<null> {
    try {
      writeKeptDevices(this.#options.dataFolder, kept)
    } catch (error) {
      if (!isSystemError(error)) throw error
      return failed(problem('setting-not-kept', `This could not be kept (${error.message}): check the disk.`))
    }
    this.#kept = kept
    return ok(null)
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const next = this.#last.then(work)
    this.#last = next.catch(() => undefined)
    return next
  }
}

const hashOf = (key: string): string => createHash('sha256').update(key).digest('base64url')

const tooMany = problem('too-many-devices', `${MOST_DEVICES} devices are paired: remove one first.`)
