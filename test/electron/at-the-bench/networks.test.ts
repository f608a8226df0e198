import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { aFolder } from '../../desk/support/a-desk.ts'

/** Whether this machine lets us have networks of our own, as no container without the right to and no other system does. */
const haveNamespaces =
  process.platform === 'linux' &&
  spawnSync('unshare', ['-Urn', 'ip', 'link', 'add', 'cable', 'type', 'veth', 'peer', 'name', 'other-end']).status === 0

test.skipIf(!haveNamespaces)(
  'only the chosen network is listened on: a phone there is paired over TLS, a stranger on another one gets nothing',
  () => {
    const desk = join(import.meta.dirname, 'namespaces/desk.ts')
    const { stdout, stderr } = spawnSync('unshare', ['-Urn', process.execPath, desk, aFolder()], {
      ...{ encoding: 'utf8', timeout: 200_000 },
    })
    expect(stdout, stderr).not.toBe('')
    const met = JSON.parse(stdout) as Record<string, unknown>
    expect(met).toMatchObject({ networks: ['10.77.1.1', '10.77.2.1'], before: [], after: [] })
    // As the kernel writes it: 10.77.1.1, the last byte first.
    expect(met['meanwhile']).toEqual(['01014D0A'])
    // By way of its own network to the chosen address, and to the address that the computer has on its own network.
    expect(met['strangerThere']).toEqual({ error: 'ECONNRESET' })
    expect(met['strangerHere']).toEqual({ error: 'ECONNREFUSED' })
    expect(met['phone']).toMatchObject({
      ...{ paired: { status: 200, text: '{"ok":true,"value":null}' }, called: 200 },
      fingerprint: met['fingerprint'],
      steps: expect.any(Number),
    })
    expect((met['phone'] as { steps: number }).steps).toBeGreaterThan(0)
    // It follows its network, and no other.
    expect(met['gone']).toEqual({ listening: [], url: null, says: ['no-network'] })
    expect(met['moved']).toMatchObject({ listening: ['09014D0A'], says: ['address-moved'] })
    expect(met['moved']).toMatchObject({ url: expect.stringMatching(/^https:\/\/10\.77\.1\.9:/) })
    expect(met['elsewhere']).toEqual({ listening: [], url: null, says: ['no-network'] })
  },
)
