import { withDigest } from './row-digest.ts'
import type { Db, PhotoType } from './schema.ts'

/** A photo as it comes in, not kept yet. */
export interface NewPhoto {
  readonly kind: 'new'
  readonly id: string
  readonly mediaType: PhotoType
  readonly bytes: Uint8Array
}

export interface Photo {
  readonly mediaType: PhotoType
  readonly bytes: Uint8Array
}

/** Keeps a photo in the shop's file, so that every backup has it, and answers with its id. What shows it refers to that. */
export async function keepPhoto(db: Db, { id, mediaType, bytes }: NewPhoto, atMs: number): Promise<string> {
  await db
    .insertInto('photo')
    .values(withDigest('photo', { id, media_type: mediaType, kept_at_ms: atMs, bytes }))
    .execute()
  return id
}

export async function photoById(db: Db, id: string): Promise<Photo | null> {
  const row = await db.selectFrom('photo').select(['media_type', 'bytes']).where('id', '=', id).executeTakeFirst()
  return row === undefined ? null : { mediaType: row.media_type, bytes: row.bytes }
}
