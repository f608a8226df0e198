import { failed, ok, problem, type Result } from '../../core/problems.ts'

/** What becomes of a board's photo when its form is saved. */
export type ChosenPhoto =
  { readonly kind: 'as-it-is' } | { readonly kind: 'none' } | { readonly kind: 'new'; readonly base64: string }

/** Enough to see grain and knots by; a shop's file stays small with it. */
const LONGEST_SIDE_PX = 1280
const QUALITIES = [0.82, 0.65, 0.5]
const ENOUGH_BYTES = 400_000

/** A picture file made small enough to keep, as the base64 text of a JPEG. Problems name the field `photo`. */
export async function shrinkPhoto(file: Blob): Promise<Result<string>> {
  const bitmap = await createImageBitmap(file).catch(() => null)
  if (bitmap === null) {
    return failed(problem('photo-type', 'This is no photo that I can read: take a JPEG, PNG or WebP.', 'photo'))
  }
  const scale = Math.min(1, LONGEST_SIDE_PX / Math.max(bitmap.width, bitmap.height))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(bitmap.width * scale))
  canvas.height = Math.max(1, Math.round(bitmap.height * scale))
  canvas.getContext('2d')?.drawImage(bitmap, 0, 0, canvas.width, canvas.height)
  bitmap.close()
  let made = ''
  for (const quality of QUALITIES) {
    made = canvas.toDataURL('image/jpeg', quality).replace(/^.*?,/, '')
    if ((made.length * 3) / 4 <= ENOUGH_BYTES) break
  }
  return ok(made)
}
