import { protocol } from 'electron'
import { pageFile } from './page-files.ts'

/** Makes `app:` a scheme with an origin, like https. To be called before the app is ready. */
export function announcePageScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ])
}

/** Serves the built pages, and nothing else, as `app://shop/`. */
export function servePages(folder: string): void {
  protocol.handle('app', async ({ method, url }) => {
    const { host, pathname } = new URL(url)
    const file = host === 'shop' && method === 'GET' ? await pageFile(folder, pathname) : undefined
    if (file === undefined) return new Response('The app has no such page.\n', { status: 404 })
    return new Response(new Uint8Array(file.body), { headers: { ...file.headers } })
  })
}
