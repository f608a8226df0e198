import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { chromium } from 'playwright-core'
import { findBrowser } from '../test/support/browser-program.ts'
import { icnsOf, ICNS_SIZES_PX, icoOf, ICO_SIZES_PX, type Picture } from './packaging/icon-files.ts'
import { projectFolder } from './run-program.ts'

// Draws the icon anew for all three systems out of `electron/icon.svg`; to be run by hand when that has changed.
const found = await findBrowser()
if (!found.there) throw new Error(found.why)
const browser = await chromium.launch(found.value)
const svg = readFileSync(join(projectFolder, 'electron/icon.svg'), 'utf8')

async function drawn(px: number): Promise<Picture> {
  const page = await browser.newPage({ viewport: { width: px, height: px } })
  await page.setContent(`<style>body { margin: 0 } svg { display: block }</style>${svg}`)
  const png = await page.screenshot({ omitBackground: true })
  await page.close()
  return { px, png }
}

const pictures = new Map<number, Picture>()
for (const px of new Set([...ICO_SIZES_PX, ...ICNS_SIZES_PX])) pictures.set(px, await drawn(px))
await browser.close()
const ofSizes = (sizesPx: readonly number[]): Picture[] => sizesPx.flatMap((px) => pictures.get(px) ?? [])

writeFileSync(join(projectFolder, 'electron/icon.ico'), icoOf(ofSizes(ICO_SIZES_PX)))
writeFileSync(join(projectFolder, 'electron/icon.icns'), icnsOf(ofSizes(ICNS_SIZES_PX)))
writeFileSync(join(projectFolder, 'renderer/public/icon.png'), pictures.get(256)!.png)
