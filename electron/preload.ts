import { contextBridge, ipcRenderer } from 'electron'
import type { Desk, DeskEvent } from '../desk/desk.ts'
import type { Reply } from '../desk/procedure.ts'

/** All that a page sees of the world outside: two functions. */
const bridge: Pick<Desk, 'call' | 'onEvent'> = {
  call: (name, input) => ipcRenderer.invoke('call', name, input) as Promise<Reply<unknown>>,
  onEvent(listener) {
    const pass = (_: unknown, event: DeskEvent): void => listener(event)
    ipcRenderer.on('event', pass)
    return () => ipcRenderer.off('event', pass)
  },
}

contextBridge.exposeInMainWorld('outOfClamps', bridge)

// The shell asks for a screen when a notice is clicked.
ipcRenderer.on('open-screen', (_, hash: string) => {
  window.location.hash = hash
})
