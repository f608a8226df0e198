import { homedir } from 'node:os'
import { join } from 'node:path'
import { openDesk } from '../../desk/open-desk.ts'
import { doorOn } from '../at-the-bench/door.ts'
import { demoFolder, userDataFolder } from '../data-folder.ts'
import { readStartOptions, startClock, testClockStart, type StartOptions } from '../start-options.ts'
import { type Addresses, openBrowserMode } from './server.ts'

// Whatever the app writes is for this user alone.
process.umask(0o077)

const pagesFolder = join(import.meta.dirname, '../renderer')

/** Opens the shop, serves it to a browser, prints the address, and closes the shop when the program is told to end. */
async function serve({ demo, dataFolder }: StartOptions): Promise<void> {
  const userData = userDataFolder({ platform: process.platform, home: homedir(), env: process.env })
  const desk = await openDesk({
    dataFolder: dataFolder ?? (demo ? demoFolder(userData) : userData),
    demo,
    where: 'the browser, whose terminal prints a new address at Enter',
    openDoor: doorOn(pagesFolder),
    ...startClock(testClockStart(process.env)),
  })
  if (!desk.ok) return endWith(desk.problems)

  const browserMode = await openBrowserMode(desk.value, pagesFolder)
  const end = (): void => {
    void browserMode
      .close()
      .then(() => desk.value.close())
      .then(() => process.exit(0))
  }
  process.once('SIGINT', end).once('SIGTERM', end).once('SIGHUP', end)

  console.log('Out of Clamps is open. Address for a browser on this computer, good for one use:')
  say(browserMode)
  console.log('Enter prints a new address, for when the browser was closed. Ctrl+C closes the shop.')
  process.stdin.on('data', () => say(browserMode.newAddresses())).on('error', () => undefined)
}

function say({ address, plain }: Addresses): void {
  console.log(address)
  console.log(`If the browser does not find it, open this one instead: ${plain}`)
}

function endWith(problems: readonly { readonly message: string }[]): void {
  for (const { message } of problems) console.error(message)
  process.exitCode = 1
}

const options = readStartOptions(process.argv.slice(2))
if (options.ok) await serve(options.value)
else endWith(options.problems)
