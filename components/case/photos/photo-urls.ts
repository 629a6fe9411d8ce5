import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { CaseView } from '../../../src/case/case-view.ts'
import type { CaseId, PhotoHash } from '../../../src/ids.ts'
import type { AppCasebook } from '../../app/context.ts'

/**
 * `elsewhere`: another of the crew has it, or nobody any more. `fetching`: those who are connected are being asked; `nobody`:
 * none of them has it.
 */
export type Picture =
  | { readonly status: 'coming' | 'elsewhere' | 'fetching' | 'nobody' | 'unreadable' }
  | { readonly status: 'here'; readonly url: string }

const COMING: Picture = { status: 'coming' }
const isAway = ({ status }: Picture): boolean => status === 'elsewhere' || status === 'nobody'

/**
 * Pictures on screen: bytes opened from the store, each under an address of this page alone. An address is taken back as
 * soon as its photo is not shown any more: it is removed, agreement ends, the part is closed, the device is locked.
 */
export class PhotoUrls implements ReactiveController {
  readonly #host: ReactiveControllerHost
  readonly #pictures = new Map<PhotoHash, Picture>()
  #casebook: AppCasebook | undefined
  #view: CaseView | undefined
  #stop: (() => void) | undefined

  constructor(host: ReactiveControllerHost) {
    this.#host = host
    host.addController(this)
  }

  hostConnected(): void {
    // Put back on the page: what was shown is read again.
    this.#host.requestUpdate()
  }

  hostDisconnected(): void {
    this.#leave()
  }

  /** Called from `willUpdate`: these photos of this case are shown, and no others. */
  show(casebook: AppCasebook | undefined, view: CaseView | undefined, hashes: readonly PhotoHash[]): void {
    if (casebook !== this.#casebook || view?.caseId !== this.#view?.caseId) this.#leave()
    const changed = view !== this.#view
    this.#casebook = casebook
    this.#view = view
    if (!casebook || !view) return
    this.#stop ??= casebook.subscribe(change => {
      if (change.type === 'photo-came' && change.caseId === this.#view?.caseId) this.#read(change.hash)
    })
    const shown = new Set(hashes)
    for (const hash of this.#pictures.keys()) if (!shown.has(hash)) this.#drop(hash)
    for (const hash of shown) {
      const picture = this.#pictures.get(hash)
      // Another window on the same store may have brought it together with what changed.
      if (!picture || (changed && isAway(picture))) this.#read(hash)
    }
  }

  /** A photo that is looked at and not here is asked for from those who are connected; false: none of them gave it. */
  fetch(hash: PhotoHash, ask: (caseId: CaseId, hash: PhotoHash) => Promise<boolean>): void {
    const view = this.#view
    if (!view || !isAway(this.of(hash))) return
    this.#pictures.set(hash, { status: 'fetching' })
    void ask(view.caseId, hash)
      // Its bytes could not be kept: the store says so where it is shown.
      .catch(() => false)
      .then(came => {
        // Once it has come it is read by the news of it.
        if (came || view.caseId !== this.#view?.caseId || this.of(hash).status !== 'fetching') return
        this.#pictures.set(hash, { status: 'nobody' })
        this.#host.requestUpdate()
      })
  }

  of(hash: PhotoHash): Picture {
    return this.#pictures.get(hash) ?? COMING
  }

  #read(hash: PhotoHash): void {
    const [casebook, view] = [this.#casebook, this.#view]
    if (!casebook || !view) return
    if (!this.#pictures.has(hash)) this.#pictures.set(hash, COMING)
    void this.#pictureOf(casebook, view, hash).then(picture => {
      // Meanwhile it may have gone from the screen, or come by another way.
      const isWanted = casebook === this.#casebook && this.#pictures.has(hash) && this.of(hash).status !== 'here'
      if (isWanted) this.#pictures.set(hash, picture)
      else if (picture.status === 'here') URL.revokeObjectURL(picture.url)
      this.#host.requestUpdate()
    })
  }

  async #pictureOf(casebook: AppCasebook, { caseId }: CaseView, hash: PhotoHash): Promise<Picture> {
    try {
      const bytes = await casebook.photo(caseId, hash)
      if (!bytes) return { status: 'elsewhere' }
      const blob = new Blob([bytes as Uint8Array<ArrayBuffer>], { type: 'image/jpeg' })
      return { status: 'here', url: URL.createObjectURL(blob) }
    } catch {
      // The store cannot be read at all: said beside the photo, and again by the list of people.
      return { status: 'unreadable' }
    }
  }

  #drop(hash: PhotoHash): void {
    const picture = this.#pictures.get(hash)
    if (picture?.status === 'here') URL.revokeObjectURL(picture.url)
    this.#pictures.delete(hash)
  }

  #leave(): void {
    this.#stop?.()
    this.#stop = undefined
    for (const hash of [...this.#pictures.keys()]) this.#drop(hash)
    this.#casebook = undefined
    this.#view = undefined
  }
}
