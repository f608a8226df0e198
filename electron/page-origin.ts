/** Where the window's pages come from: the built files, or in development the address of the development server. */
export function pageOrigin(isPackaged: boolean, env: Readonly<Record<string, string | undefined>>): string {
  const development = env['ELECTRON_RENDERER_URL']
  return development === undefined || isPackaged ? 'app://shop' : development.replace(/\/$/, '')
}

/** Whether an address is one of the app's own pages. */
export function isOwnPage(address: string, origin: string): boolean {
  if (!URL.canParse(address)) return false
  // `URL.origin` is "null" for a scheme of one's own, and would make all of them equal.
  const [page, own] = [new URL(address), new URL(origin)]
  return page.protocol === own.protocol && page.host === own.host
}
