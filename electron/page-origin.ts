/** Where the window's pages come from: the built files, or the address of the development server. */
export function pageOrigin(isDevelopment: boolean, env: Readonly<Record<string, string | undefined>>): string {
  const server = env['ELECTRON_RENDERER_URL']
  return server === undefined || !isDevelopment ? 'app://shop' : server.replace(/\/$/, '')
}

/** Whether `npm run dev` started this. Anybody can set the server's address; a packaged app heeds neither. */
export const isDevelopment = (isPackaged: boolean, env: Readonly<Record<string, string | undefined>>): boolean =>
  !isPackaged && env['OUT_OF_CLAMPS_DEVELOPMENT'] === 'yes'

/** Whether an address is one of the app's own pages. */
export function isOwnPage(address: string, origin: string): boolean {
  if (!URL.canParse(address)) return false
  // `URL.origin` is "null" for a scheme of one's own, and would make all of them equal.
  const [page, own] = [new URL(address), new URL(origin)]
  return page.protocol === own.protocol && page.host === own.host
}
