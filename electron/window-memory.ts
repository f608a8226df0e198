import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Rectangle } from 'electron'

/** What the shell itself remembers between two starts; nothing of the shop. */
export interface WindowMemory {
  /** The window's place and size on the desktop, in device-independent pixels. */
  readonly bounds: Rectangle | undefined
  readonly maximized: boolean
  /** Whether closing the window leaves the app in the tray, so that it can still notify. */
  readonly staysInTray: boolean
}

/** What was remembered; a missing or damaged file is as good as none. */
export function recallWindow(dataFolder: string): WindowMemory {
  try {
    const saved = JSON.parse(readFileSync(fileIn(dataFolder), 'utf8')) as Partial<Record<keyof WindowMemory, unknown>>
    return {
      bounds: isRectangle(saved.bounds) ? saved.bounds : undefined,
      maximized: saved.maximized === true,
      staysInTray: saved.staysInTray !== false,
    }
  } catch {
    return { bounds: undefined, maximized: false, staysInTray: true }
  }
}

/** Remembers for the next start. Not being able to is no reason to disturb anybody. */
export function rememberWindow(dataFolder: string, memory: WindowMemory): void {
  try {
    writeFileSync(fileIn(dataFolder), `${JSON.stringify(memory)}\n`)
  } catch (error) {
    console.error('The place of the window was not remembered:', error)
  }
}

/** A remembered place is used only where enough of it is still on a screen to take hold of the window. */
export function isWithinReach(bounds: Rectangle, screens: readonly Rectangle[]): boolean {
  return screens.some((screen) => {
    const width = Math.min(bounds.x + bounds.width, screen.x + screen.width) - Math.max(bounds.x, screen.x)
    const height = Math.min(bounds.y + bounds.height, screen.y + screen.height) - Math.max(bounds.y, screen.y)
    return width >= 200 && height >= 100 && bounds.y >= screen.y
  })
}

const fileIn = (dataFolder: string): string => join(dataFolder, 'window.json')

const isRectangle = (value: unknown): value is Rectangle =>
  typeof value === 'object' &&
  value !== null &&
  ['x', 'y', 'width', 'height'].every((key) => Number.isFinite((value as Record<string, unknown>)[key]))
