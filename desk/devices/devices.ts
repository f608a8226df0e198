import { createHash, createPrivateKey, randomBytes, randomUUID, timingSafeEqual, X509Certificate } from 'node:crypto'
import { BlockList } from 'node:net'
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
import { Turns } from '../../db/turns.ts'
import { settingNotKept } from '../setting-not-kept.ts'
import type { Door, OpenDoor, Visitors } from './door.ts'
import type { NetworkHere } from './networks-here.ts'
import { PairingCode } from './pairing-code.ts'

/** A maker's phones and a tablet in the shop; more than this is somebody else. */
const MOST_DEVICES = 10
/** Addresses whose certificates are kept: a network gives a computer the same few again and again. */
const ADDRESSES_BEFORE = 3

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
  /** `lostAt`: it was paired at this address, which is not the desk's any more; null: it can connect. */
  readonly devices: readonly (Pick<Device, 'id' | 'name' | 'right' | 'pairedAtMs'> & {
    readonly lostAt: string | null
  })[]
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
  /** The network that the door is open on. */
  #openOn: NetworkHere | null = null
  #problem: Problem | null = null
  #isClosed = false
  readonly #turns = new Turns()

  constructor(options: DevicesOptions) {
    this.#options = options
    this.#kept = readKeptDevices(options.dataFolder)
  }

  /**
   * Opens, moves or shuts the door, as it was switched on and as this computer's networks are now. To be called every few seconds; whatever
   * goes wrong becomes the problem that is shown, as the order book opens and stays open all the same.
   */
  follow(): Promise<void> {
    return this.#turns.take(async () => {
      if (!this.#kept.isOn || this.#isClosed) return
      const shown = (): string => JSON.stringify([this.#openOn, this.#problem])
      const before = shown()
      await this.#open()
      if (shown() !== before) this.#options.changed()
    })
  }

  close(): Promise<void> {
    this.#isClosed = true
    return this.#turns.take(() => this.#shut())
  }

  view(): DevicesView {
    const { isOn, identity, devices } = this.#kept
    const offered = this.#code.offered(this.#options.clockMs())
    const door = this.#door
    const url = door === null || this.#openOn === null ? null : `https://${this.#openOn.address}:${door.port}`
    return {
      isOn,
      networks: this.#options.networks().map(({ name, address }) => ({ name, address })),
      url,
      fingerprint: identity === null ? null : (identity.fingerprint.match(/.{2}/g) ?? []).join(':').toUpperCase(),
      problems: this.#problems(),
      offered:
        offered === null || url === null
          ? null
          : {
              ...{ code: offered.code, name: offered.name, untilMs: offered.untilMs },
              url: `${url}/#/pair/${offered.code}`,
            },
      devices: devices.map((device) => {
        const { id, name, right, pairedAtMs, address = null } = device
        return { id, name, right, pairedAtMs, lostAt: this.#isLost(device) ? address : null }
      }),
    }
  }

  /** Problem at `address`: not one of this computer's. */
  switchOn(address: string): Promise<Result<null>> {
    return this.#turns.take(async () => {
      const chosen = this.#options.networks().find((each) => each.address === address)
      if (chosen === undefined)
        return failed(problem('no-network', 'This computer is not on that network now. Pick another.', 'address'))
      await this.#shut()
      const { identity } = this.#kept
      const kept = this.#keep({
        ...{ ...this.#kept, isOn: true, address, network: chosen.name },
        identity: identity !== null && isSound(identity) ? identity : null,
      })
      if (!kept.ok) return kept
      this.#problem = null
      await this.#open()
      return this.#problem === null ? ok(null) : failed(this.#problem)
    })
  }

  switchOff(): Promise<Result<null>> {
    return this.#turns.take(async () => {
      this.#code.withdraw()
      await this.#shut()
      this.#problem = null
      return this.#keep({ ...this.#kept, isOn: false })
    })
  }

  /** Said on every screen while it lasts: phones cannot say it themselves. */
  warnings(): readonly Problem[] {
    return this.#kept.isOn ? this.#problems() : []
  }

  #problems(): readonly Problem[] {
    if (this.#problem !== null) return [this.#problem]
    const lost = this.#kept.devices.filter((device) => this.#isLost(device)).map(({ name }) => name)
    return lost.length === 0 ? [] : [movedTo(this.#kept.address, lost)]
  }

  /** Its page and its key are of another address than the one on which the door is open. */
  #isLost({ address }: Device): boolean {
    return this.#openOn !== null && address !== undefined && address !== this.#openOn.address
  }

  offerCode(typed: string, right: Right): Result<null> {
    const name = typed.trim()
    if (this.#door === null) return failed(switchedOff)
    if (name === '') return failed(problem('too-small', 'Type a name, such as Phone.', 'name'))
    if (this.#kept.devices.some((each) => each.name.toLowerCase() === name.toLowerCase()))
      return failed(problem('taken', 'There is a device of that name. Type another.', 'name'))
    if (this.#kept.devices.length >= MOST_DEVICES) return failed(tooMany)
    this.#code.offer(name, right, this.#options.clockMs())
    return ok(null)
  }

  /** For a device that is paired already and has lost its key, or the desk's address: it keeps its name and what it may do. */
  offerCodeAgain(id: string): Result<null> {
    const device = this.#kept.devices.find((each) => each.id === id)
    if (this.#door === null) return failed(switchedOff)
    if (device === undefined) return failed(problem('not-found', 'This device was removed. Pair it as a new one.'))
    this.#code.offer(device.name, device.right, this.#options.clockMs(), id)
    return ok(null)
  }

  /** Its key is good no more from this moment on, whatever it has open is ended. */
  revoke(id: string): Result<null> {
    if (this.#code.offered(this.#options.clockMs())?.renews === id) this.#code.withdraw()
    const done = this.#keep({ ...this.#kept, devices: this.#kept.devices.filter((each) => each.id !== id) })
    this.#door?.turnAway(id)
    return done
  }

  readonly #visitors: Pick<Visitors, 'pair' | 'deviceOf'> = {
    pair: (typed) => {
      const { clockMs, changed } = this.#options
      const taken = this.#code.take(typed, clockMs())
      if (!taken.ok) return taken
      const { name, right, renews } = taken.value
      const others = this.#kept.devices.filter(({ id }) => id !== renews)
      if (others.length >= MOST_DEVICES) return failed(tooMany)
      const key = randomBytes(32).toString('base64url')
      const { address } = this.#kept
      const device = { id: renews ?? randomUUID(), name, right, keyHash: hashOf(key), pairedAtMs: clockMs(), address }
      const kept = this.#keep({ ...this.#kept, devices: [...others, device] })
      if (renews !== null) this.#door?.turnAway(renews)
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

  /** Sees to it that the door is open on the chosen network, or shut, with the reason as the problem. */
  async #open(): Promise<void> {
    const { openDoor, visitors } = this.#options
    if (openDoor === null) return
    try {
      const network = this.#chosenNow()
      if (this.#door !== null && isSame(network, this.#openOn)) return
      await this.#shut()
      if (network === null) return this.#say(awayFrom(this.#kept.address))
      const { address, prefix } = network
      const identity = await this.#identityFor(address)
      if (identity === null) return this.#say(certificateDamaged)
      const { certificate, privateKey } = identity
      const all: Visitors = { ...visitors, ...this.#visitors }
      const plan = { address, prefix, certificate, privateKey }
      const { port } = this.#kept
      this.#door = await openDoor({ ...plan, port }, all).catch((error: unknown) => {
        // The port of last time is somebody else's now, or was never one.
        if (port !== 0) return openDoor({ ...plan, port: 0 }, all)
        throw error
      })
      this.#openOn = network
      const now = { address, network: network.name, port: this.#door.port }
      const kept = this.#keep({ ...this.#withPlaces(), ...now, ...this.#withIdentity(identity) })
      this.#say(kept.ok ? null : (kept.problems[0] ?? null))
    } catch (error) {
      this.#say(problemOf(error, this.#kept.address), error)
    }
  }

  /**
   * The network that was chosen, as it is now; null: this computer is not on it. An address of the same network that came in place of the
   * chosen one, by DHCP, will do; whatever other network the same interface is on by now was not chosen.
   */
  #chosenNow(): NetworkHere | null {
    const { address, network } = this.#kept
    const here = this.#options.networks().filter(({ name }) => network === undefined || name === network)
    const asChosen = here.find((each) => each.address === address)
    return asChosen ?? (network === undefined ? undefined : here.find((each) => isWithin(each, address))) ?? null
  }

  /** Null: what was kept is damaged. Another certificate is made only as the maker says so, who has to compare it. */
  async #identityFor(address: string): Promise<Identity | null> {
    const { identity, identitiesBefore = [] } = this.#kept
    const nowMs = this.#options.clockMs()
    if (identity?.address === address && identity.untilMs > nowMs) return isSound(identity) ? identity : null
    const before = identitiesBefore.find((each) => each.address === address && each.untilMs > nowMs)
    if (before !== undefined && isSound(before)) return before
    const { makeIdentity } = await import('./certificate.ts')
    return makeIdentity(address, nowMs)
  }

  /** Devices of before it was kept at which address each was paired: it was the one of the certificate until now. */
  #withPlaces(): KeptDevices {
    const { identity, devices } = this.#kept
    return { ...this.#kept, devices: devices.map((device) => ({ address: identity?.address, ...device })) }
  }

  #withIdentity(identity: Identity): Pick<KeptDevices, 'identity' | 'identitiesBefore'> {
    const { identity: last, identitiesBefore = [] } = this.#kept
    const others = [...(last === null ? [] : [last]), ...identitiesBefore]
    const before = others.filter(({ address }) => address !== identity.address).slice(0, ADDRESSES_BEFORE)
    return { identity, identitiesBefore: before }
  }

  /** @param fault what it comes from, for who looks for the cause: told once, not at every look */
  #say(found: Problem | null, fault?: unknown): void {
    if (fault !== undefined && found?.code !== this.#problem?.code) console.error('Phones cannot connect:', fault)
    this.#problem = found
  }

  async #shut(): Promise<void> {
    const door = this.#door
    this.#door = null
    this.#openOn = null
    await door?.close()
  }

  #keep(kept: KeptDevices): Result<null> {
    try {
      writeKeptDevices(this.#options.dataFolder, kept)
    } catch (error) {
      return settingNotKept(error)
    }
    this.#kept = kept
    return ok(null)
  }
}

const hashOf = (key: string): string => createHash('sha256').update(key).digest('base64url')

const switchedOff = problem('switched-off', 'Switch it on first.')

const tooMany = problem('too-many-devices', `${MOST_DEVICES} devices are paired: remove one first.`)

const isSame = (one: NetworkHere | null, other: NetworkHere | null): boolean =>
  one?.name === other?.name && one?.address === other?.address && one?.prefix === other?.prefix

const isWithin = ({ address, prefix }: NetworkHere, other: string): boolean => {
  const network = new BlockList()
  network.addSubnet(address, prefix)
  return network.check(other)
}

/** Whether it is a certificate with its own key, and the one whose fingerprint is shown. */
function isSound({ certificate, privateKey, fingerprint }: Identity): boolean {
  try {
    const read = new X509Certificate(certificate)
    const isShown = read.fingerprint256.replaceAll(':', '').toLowerCase() === fingerprint
    return isShown && read.checkPrivateKey(createPrivateKey(privateKey))
  } catch {
    return false
  }
}

const awayFrom = (address: string): Problem =>
  problem(
    'no-network',
    `Phones and tablets cannot connect: this computer is off their network (${address}). Rejoin it, or pick another: Almanac, Phones and tablets.`,
  )

const movedTo = (address: string, devices: readonly string[]): Problem =>
  problem(
    'address-moved',
    `The desk’s address is now ${address}: ${devices.join(', ')} can’t connect. Show each a new code: Almanac, Phones and tablets.`,
  )

const certificateDamaged = problem(
  'certificate-damaged',
  'Phones and tablets cannot connect: the shop’s certificate is damaged. Press Switch on in the Almanac, Phones and tablets: that makes a new one.',
)

function problemOf(error: unknown, address: string): Problem {
  if (!isSystemError(error))
    return problem(
      'not-listening',
      'Phones and tablets cannot connect: something went wrong inside the app. Close it and start it again.',
    )
  if (error.code === 'EADDRNOTAVAIL') return awayFrom(address)
  return problem(
    'not-listening',
    `Phones and tablets cannot connect: this computer does not let the app listen on ${address}. Check its firewall, or pick another network in the Almanac, Phones and tablets.`,
  )
}
