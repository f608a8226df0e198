// Electron's main process for `benchmarks/start.ts`: starts the app, or a bare window with a heading, and says when the heading was
// painted. Nothing is attached to the program, so that it starts as it does for its maker.
import { readFileSync } from 'node:fs'
import { app, BrowserWindow } from 'electron'

const appMain = process.env['START_MAIN']

app.on('web-contents-created', (_event, contents) => {
  contents.once('dom-ready', () => {
    contents
      .executeJavaScript(whenHeadingPainted)
      .then((at) => {
        say({ headingAt: at })
        setTimeout(() => say({ memoryKb: memoryKb() }), 8_000)
      })
      .catch((error) => console.error(error))
  })
})

// Electron is ready only after this file has been run: nothing here may wait for that.
if (appMain === undefined) {
  if (!app.commandLine.hasSwitch('no-sandbox')) app.enableSandbox()
  app.on('window-all-closed', () => app.quit())
  app.whenReady().then(openBareWindow, console.error)
} else {
  await import(appMain)
}

async function openBareWindow() {
  const window = new BrowserWindow({ width: 1280, height: 800, show: false, webPreferences: { sandbox: true } })
  window.once('ready-to-show', () => window.show())
  await window.loadURL('data:text/html,<title>Bare</title><h1>Bare</h1>')
}

/** Two frames later what stands in the page has been painted. */
const whenHeadingPainted = `new Promise((painted) => {
  const look = () => document.querySelector('h1') === null
    ? setTimeout(look, 4)
    : requestAnimationFrame(() => requestAnimationFrame(() => painted(Date.now())))
  look()
})`

function say(what) {
  process.stdout.write(`${JSON.stringify(what)}\n`)
}

/** Memory of all processes of the app, shared pages by their share; what Electron itself tells where the system does not. */
function memoryKb() {
  return app
    .getAppMetrics()
    .map(({ pid, memory }) => proportionalKb(pid) ?? memory.workingSetSize)
    .reduce((sum, kb) => sum + kb, 0)
}

function proportionalKb(pid) {
  try {
    return Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'))?.[1])
  } catch {
    return null
  }
}
