import { randomUUID } from 'node:crypto'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import type { PhotoChange } from '../../db/boards.ts'
import type { PhotoType } from '../../db/schema.ts'

/** What a form says of a photo: leave it, take it away, or a new one as the page has made it small. */
export type PhotoInput =
  { readonly kind: 'as-it-is' } | { readonly kind: 'none' } | { readonly kind: 'new'; readonly base64: string }

/** The page makes a photo smaller than this; what is bigger did not come from it. */
export const LARGEST_PHOTO = 2 * 1024 * 1024

/** Checks a photo by its first bytes, not by what it is said to be. Problems name the field `photo`. */
export function readPhoto(photo: PhotoInput): Result<PhotoChange> {
  if (photo.kind !== 'new') return ok(photo)
  const bytes = Buffer.from(photo.base64, 'base64')
  if (bytes.length > LARGEST_PHOTO)
    return failed(problem('photo-large', 'This photo is too large: take it again with less detail.', 'photo'))
  const mediaType = typeOf(bytes)
  if (mediaType === null)
    return failed(problem('photo-type', 'This is no photo that I can read: take a JPEG, PNG or WebP.', 'photo'))
  return ok({ kind: 'new', id: randomUUID(), mediaType, bytes: new Uint8Array(bytes) })
}

/** @source JPEG: ISO/IEC 10918-1, start of image; PNG: ISO/IEC 15948, signature; WebP: RFC 9649, RIFF header */
function typeOf(bytes: Buffer): PhotoType | null {
  if (bytes.subarray(0, 3).toString('latin1') === '\xff\xd8\xff') return 'image/jpeg'
  if (bytes.subarray(0, 8).toString('latin1') === '\x89PNG\r\n\x1a\n') return 'image/png'
  if (bytes.subarray(0, 4).toString('latin1') === 'RIFF' && bytes.subarray(8, 12).toString('latin1') === 'WEBP')
    return 'image/webp'
  return null
}
