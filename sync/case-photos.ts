import type { CaseView } from '../src/case/case-view.ts'
import type { FieldValue } from '../src/case/fields.ts'
import { photoAgreementOf, photosOf, removedPhotosOf } from '../src/case/photos.ts'
import { type CaseId, type PhotoHash, photoHashSchema } from '../src/ids.ts'
import { failure, type Result, success } from '../src/result.ts'
import { toBase64Url } from './bytes.ts'
import type { Saved, SaveResult, Statement } from './casebook.ts'
import { type Checked, NOT_SAVED, type SaveFailure } from './statement.ts'
import type { PhotoStore, Stored } from './storage/storage.ts'
import { sha256 } from './trust/digest.ts'

/** A photo drawn anew, and what is said of it. */
export interface NewPhoto extends Omit<FieldValue<'photo'>, 'hash'> {
  readonly bytes: Uint8Array
}

export type AddedPhoto = Saved & { readonly hash: PhotoHash }

const NOT_AGREED: SaveFailure = {
  type: 'photo-not-agreed',
  message: `Nobody has agreed that photos may be taken, or it was taken back. ${NOT_SAVED}`,
}
const REMOVED: SaveFailure = {
  type: 'photo-removed',
  message: `This very photo was taken out of this case and does not come back. ${NOT_SAVED}`,
}
const UNKNOWN: SaveFailure = {
  type: 'unknown-photo',
  message: 'This case names no such photo. It was not kept.',
}
const WRONG_HASH: SaveFailure = {
  type: 'wrong-hash',
  message: 'The photo that came is not the one that was asked for. It was not kept. Ask again at the next meeting.',
}

const hashOf = async (bytes: Uint8Array): Promise<PhotoHash> => photoHashSchema.parse(toBase64Url(await sha256(bytes)))

/** Whether a statement may name its photo: only with agreement, and never one taken back. */
export const mayNamePhoto = (set: Statement['set'], view: CaseView): Checked => {
  if (photoAgreementOf(view) !== 'yes') return failure(NOT_AGREED)
  const { hash } = set.photo as FieldValue<'photo'>
  return removedPhotosOf(view).includes(hash) ? failure(REMOVED) : success(undefined)
}

/**
 * Photos of one device's casebook: what the record says of them, and their bytes beside it. Everything here runs while
 * nothing else touches a document.
 */
export class CasePhotos {
  readonly #store: PhotoStore
  readonly #save: (caseId: CaseId, statement: Statement) => Promise<SaveResult>

  constructor(store: PhotoStore, save: (caseId: CaseId, statement: Statement) => Promise<SaveResult>) {
    this.#store = store
    this.#save = save
  }

  /** Bytes first, then the entry that names them; what the record does not take leaves no bytes behind. */
  async add(view: CaseView, { bytes, ...rest }: NewPhoto): Promise<Result<AddedPhoto, SaveFailure>> {
    const hash = await hashOf(bytes)
    const set = { photo: { hash, ...rest } }
    const may = mayNamePhoto(set, view)
    if (!may.ok) return may
    const known = photosOf(view).find(photo => photo.hash === hash)
    const kept = await this.#store.keepPhoto(view.caseId, hash, bytes)
    if (!kept.ok) return kept
    if (known && known.shows === rest.shows && known.note === rest.note)
      return success({ id: known.id, counts: true, hash })
    const saved = await this.#save(view.caseId, { kind: 'save', set, over: known ? [known.id] : [] })
    if (saved.ok) return success({ ...saved.value, hash })
    if (!known) await this.#store.removePhotos(view.caseId, [hash])
    return saved
  }

  /** Bytes of a photo that stands and may be shown; undefined where it may not, or is not on this device. */
  async read(view: CaseView, hash: PhotoHash): Promise<Uint8Array | undefined> {
    return this.#isShown(view, hash) ? this.#store.readPhoto(view.caseId, hash) : undefined
  }

  /** Keeps a photo that one of the crew sent: these bytes and no others have that hash. */
  async receive(view: CaseView, hash: PhotoHash, bytes: Uint8Array): Promise<Result<undefined, SaveFailure>> {
    if (!photosOf(view).some(photo => photo.hash === hash)) return failure(UNKNOWN)
    if (photoAgreementOf(view) !== 'yes') return failure(NOT_AGREED)
    if ((await hashOf(bytes)) !== hash) return failure(WRONG_HASH)
    return this.#store.keepPhoto(view.caseId, hash, bytes)
  }

  #isShown(view: CaseView, hash: PhotoHash): boolean {
    return photoAgreementOf(view) === 'yes' && photosOf(view).some(photo => photo.hash === hash)
  }
}

/** Deletes the bytes of what was taken back in a case: after each change of it, from whichever device. */
export const deleteRemovedPhotos = async (store: PhotoStore, view: CaseView): Promise<Stored> => {
  const removed = removedPhotosOf(view)
  return removed.length === 0 ? success(undefined) : store.removePhotos(view.caseId, removed)
}
