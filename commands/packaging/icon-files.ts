/** A square drawing as a PNG file. */
export interface Picture {
  readonly px: number
  readonly png: Buffer
}

/** Sizes of an `.icns` in pixels, and the name that each has there when it is a PNG. */
const NAMES = new Map([
  [32, 'ic11'],
  [64, 'ic12'],
  [128, 'ic07'],
  [256, 'ic08'],
  [512, 'ic09'],
  [1024, 'ic10'],
])

export const ICO_SIZES_PX = [16, 24, 32, 48, 64, 256]
export const ICNS_SIZES_PX = [...NAMES.keys()]

/** An icon file of Windows: a directory, then the PNGs as they are, which Windows has read since Vista. */
export function icoOf(pictures: readonly Picture[]): Buffer {
  const head = Buffer.alloc(6 + 16 * pictures.length)
  head.writeUInt16LE(1, 2)
  head.writeUInt16LE(pictures.length, 4)
  let offset = head.length
  for (const [index, { px, png }] of pictures.entries()) {
    const entry = 6 + 16 * index
    // One byte a side: 256 is written as 0.
    head.writeUInt8(px % 256, entry)
    head.writeUInt8(px % 256, entry + 1)
    head.writeUInt16LE(1, entry + 4)
    head.writeUInt16LE(32, entry + 6)
    head.writeUInt32LE(png.length, entry + 8)
    head.writeUInt32LE(offset, entry + 12)
    offset += png.length
  }
  return Buffer.concat([head, ...pictures.map(({ png }) => png)])
}

/** An icon file of macOS: named blocks with their lengths, each of them a PNG as it is. */
export const icnsOf = (pictures: readonly Picture[]): Buffer =>
  block(
    'icns',
    pictures.map(({ px, png }) => {
      const name = NAMES.get(px)
      if (name === undefined) throw new Error(`An icon of macOS has no picture of ${px} pixels.`)
      return block(name, [png])
    }),
  )

function block(name: string, content: readonly Buffer[]): Buffer {
  const head = Buffer.alloc(8)
  head.write(name, 'latin1')
  head.writeUInt32BE(8 + content.reduce((sum, { length }) => sum + length, 0), 4)
  return Buffer.concat([head, ...content])
}
