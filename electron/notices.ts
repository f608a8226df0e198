import { Notification } from 'electron'
import type { Desk } from '../desk/desk.ts'
import type { Notice } from '../desk/desk-event.ts'

/** Shows what the desk notices as desktop notifications; a click on one opens the screen it is about. */
export function showNotices(desk: Pick<Desk, 'onEvent'>, icon: string, openScreen: (hash: string) => void): void {
  // A notification that nothing refers to may be collected, and its click with it.
  const shown = new Map<string, Notification>()
  desk.onEvent((event) => {
    if (event.kind === 'notice') show(event.notice)
  })

  function show({ id, title, body, opens }: Notice): void {
    if (!Notification.isSupported()) return
    shown.get(id)?.close()
    const notification = new Notification({ title, body, icon })
    shown.set(id, notification)
    notification.on('click', () => openScreen(opens))
    notification.on('close', () => {
      if (shown.get(id) === notification) shown.delete(id)
    })
    notification.show()
  }
}
