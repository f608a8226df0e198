import { contextBridge, ipcRenderer } from 'electron'
import type { DeskByText } from '../desk/desk.ts'
import type { DeskEvent } from '../desk/desk-event.ts'

/** All that a page sees of the world outside: two functions. */
const bridge: DeskByText = {
  call: (name, input) => ipcRenderer.invoke('call', name, input) as Promise<string>,
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
