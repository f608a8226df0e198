// Electron's main process for `benchmarks/start.ts`: starts the app, or a bare window with a heading, and says when the heading was
// painted, and of the app when the Bench's content was. Nothing is attached to the program, so that it starts as it does for its maker.
import { readFileSync } from 'node:fs'
import { app, BrowserWindow } from 'electron'

const appMain = process.env['START_MAIN']

app.on('web-contents-created', (_event, contents) => {
  contents.once('dom-ready', () => {
    void tellWhenThere(contents).catch((error) => console.error(error))
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

async function tellWhenThere(contents) {
  say({ headingAt: await contents.executeJavaScript(whenPainted('h1')) })
  if (appMain !== undefined) say({ contentAt: await contents.executeJavaScript(whenPainted('main button')) })
  setTimeout(() => say({ memoryKb: memoryKb() }), 8_000)
}

/** Two frames later what stands in the page has been painted. A page that is hidden paints nothing, and so is not there yet. */
const whenPainted = (what) => `new Promise((painted) => {
  const look = () => document.querySelector('${what}') === null || document.hidden
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
