import { networkInterfaces } from 'node:os'

export interface NetworkHere {
  /** The system's name of the interface. */
  readonly name: string
  /** IPv4. */
  readonly address: string
}

/** Networks that this computer is on now, never its own loopback. */
export const networksHere = (): NetworkHere[] =>
  Object.entries(networkInterfaces()).flatMap(([name, addresses]) =>
    (addresses ?? [])
      .filter(({ family, internal }) => family === 'IPv4' && !internal)
      .map(({ address }) => ({ name, address })),
  )
