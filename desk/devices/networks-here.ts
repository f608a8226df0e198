import { networkInterfaces } from 'node:os'

export interface NetworkHere {
  /** The system's name of the interface. */
  readonly name: string
  /** IPv4. */
  readonly address: string
  /** Leading bits that all addresses of the network have in common. */
  readonly prefix: number
}

/** Networks that this computer is on now, never its own loopback. */
export const networksHere = (): NetworkHere[] =>
  Object.entries(networkInterfaces()).flatMap(([name, addresses]) =>
    (addresses ?? [])
      .filter(({ family, internal }) => family === 'IPv4' && !internal)
      .map(({ address, cidr }) => ({ name, address, prefix: Number(cidr?.split('/')[1] ?? 32) })),
  )
