import type { Result } from '../../core/problems.ts'
import type { Device } from '../../db/kept-devices.ts'
import type { DeskEvent } from '../desk-event.ts'
import type { Reply } from '../procedure.ts'

export type { Device }

/** Where the desk may be reached by devices, and with which certificate. */
export interface DoorPlan {
  readonly address: string
  /** Leading bits of the address that every visitor's has, too: who comes from another network is turned away. */
  readonly prefix: number
  /** 0: whichever is free. */
  readonly port: number
  /** PEM. */
  readonly certificate: string
  /** PEM. */
  readonly privateKey: string
}

/** A press with the key by which it is known when it is sent again, and how long ago it was pressed. */
export interface SentPress {
  readonly key: string
  readonly ageMs: number
}

/** Who comes to the door, as the desk sees them. */
export interface Visitors {
  /** A device's key for a pairing code. Problem: `wrong-code`, `too-many-devices`. */
  pair(code: string): Result<{ readonly key: string }>
  /** Null: nobody of that key, or not any more. */
  deviceOf(key: string): Device | null
  call(device: Device, name: string, input: unknown, press: SentPress | null): Promise<Reply<unknown>>
  onEvent(listener: (event: DeskEvent) => void): () => void
}

export interface Door {
  readonly port: number
  /** Ends whatever a device has open. */
  turnAway(deviceId: string): void
  close(): Promise<void>
}

/** Opens a door; the shells bring it along, as the desk itself knows nothing of networks. @throws system errors */
export type OpenDoor = (plan: DoorPlan, visitors: Visitors) => Promise<Door>
