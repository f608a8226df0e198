import { readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { isSystemError, syncFile } from './durable-files.ts'

/** From little to much: look; also start, pause and finish steps; also take orders. */
export const RIGHTS = ['see', 'press', 'orders'] as const
export type Right = (typeof RIGHTS)[number]

export interface Device {
  readonly id: string
  readonly name: string
  readonly right: Right
  /** SHA-256 of its key in base64url: the key itself is on the device alone. */
  readonly keyHash: string
  readonly pairedAtMs: number
  /** At which it was paired: its key goes to no other. Absent: of before that was kept. */
  readonly address?: string | undefined
}

/** The shop's certificate for one address, with its private key, both as PEM. */
export interface Identity {
  readonly address: string
  readonly certificate: string
  readonly privateKey: string
  /** SHA-256 of the certificate in hexadecimal. */
  readonly fingerprint: string
  readonly untilMs: number
}

/**
 * Phones and tablets that this computer lets in. Kept beside the shop's file and not in it: opening a backup must not let a
 * device back in that was shut out, and a copy on a stick must hold no keys.
 */
export interface KeptDevices {
  readonly isOn: boolean
  readonly address: string
  /** The system's name of the interface that was chosen; absent: of before that was kept. */
  readonly network?: string | undefined
  /** 0: none yet. */
  readonly port: number
  readonly identity: Identity | null
  /** Of addresses from before, the newest first: one that comes back is still trusted by the phones that were paired at it. */
  readonly identitiesBefore?: readonly Identity[] | undefined
  readonly devices: readonly Device[]
}

export const noDevices: KeptDevices = { isOn: false, address: '', port: 0, identity: null, devices: [] }

const fileOf = (dataFolder: string): string => join(dataFolder, 'devices.json')

/** What cannot be read lets nobody in. */
export function readKeptDevices(dataFolder: string): KeptDevices {
  try {
    const read: unknown = JSON.parse(readFileSync(fileOf(dataFolder), 'utf8'))
    return isKept(read) ? read : noDevices
  } catch (error) {
    if (error instanceof SyntaxError || isSystemError(error)) return noDevices
    throw error
  }
}

/** Written whole or not at all, for this user's eyes alone. @throws system errors */
export function writeKeptDevices(dataFolder: string, kept: KeptDevices): void {
  const temporary = `${fileOf(dataFolder)}-unfinished`
  writeFileSync(temporary, `${JSON.stringify(kept, null, 2)}\n`, { mode: 0o600 })
  syncFile(temporary)
  renameSync(temporary, fileOf(dataFolder))
}

function isKept(read: unknown): read is KeptDevices {
  if (typeof read !== 'object' || read === null) return false
  const { isOn, address, network, port, identity, identitiesBefore, devices } = read as Partial<
    Record<keyof KeptDevices, unknown>
  >
  return (
    typeof isOn === 'boolean' &&
    typeof address === 'string' &&
    (network === undefined || typeof network === 'string') &&
    Number.isInteger(port) &&
    (identity === null || isIdentity(identity)) &&
    (identitiesBefore === undefined || (Array.isArray(identitiesBefore) && identitiesBefore.every(isIdentity))) &&
    Array.isArray(devices) &&
    devices.every(isDevice)
  )
}

const isIdentity = (read: unknown): read is Identity =>
  typeof read === 'object' &&
  read !== null &&
  ['address', 'certificate', 'privateKey', 'fingerprint'].every(
    (name) => typeof (read as Record<string, unknown>)[name] === 'string',
  )

const isDevice = (read: unknown): read is Device =>
  typeof read === 'object' &&
  read !== null &&
  ['id', 'name', 'keyHash'].every((name) => typeof (read as Record<string, unknown>)[name] === 'string') &&
  RIGHTS.includes((read as Device).right)
