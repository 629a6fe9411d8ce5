import { html } from 'lit'
import '../../../components/case/photos/spoke-photos.ts'
import type { SpokePhotos } from '../../../components/case/photos/spoke-photos.ts'
import type { PhotoSubject } from '../../../src/case/fields.ts'
import { type PhotoOfCase, photosOf } from '../../../src/case/photos.ts'
import type { CaseId } from '../../../src/ids.ts'
import { cameraPicture } from '../../support/camera-file.ts'
import { expectOk } from '../../support/casebooks.ts'
import { all, find, has, type Phone, show, until } from '../case/practice-case.ts'

export interface Shown {
  readonly phone: Phone
  readonly caseId: CaseId
  readonly element: SpokePhotos
}

/** The element of photos, given the case anew after each change, as the case on screen does. */
export const showPhotos = async (
  phone: Phone,
  caseId: CaseId,
  subjects?: readonly PhotoSubject[],
): Promise<SpokePhotos> => {
  const element = await show<SpokePhotos>(phone, html`<spoke-photos .subjects=${subjects}></spoke-photos>`)
  const give = async (): Promise<void> => {
    const view = await phone.casebook.view(caseId)
    const outcome = await phone.casebook.outcome(caseId, phone.app.today())
    if (!view || !outcome) throw new Error('no such case')
    element.view = view
    element.outcome = outcome
  }
  phone.casebook.subscribe(change => {
    if (change.type === 'entries' && change.document === caseId) void give()
  })
  await give()
  await element.updateComplete
  return element
}

export const standing = async ({ casebook }: Phone, caseId: CaseId): Promise<readonly PhotoOfCase[]> => {
  const view = await casebook.view(caseId)
  if (!view) throw new Error('no such case')
  return photosOf(view)
}

export const jpegFile = async (name: string, width = 400, height = 300): Promise<File> =>
  new File([(await cameraPicture(width, height)) as Uint8Array<ArrayBuffer>], name, { type: 'image/jpeg' })

/** As the camera or the file picker hands them in. */
export const hand = (element: HTMLElement, input: 'camera' | 'files', files: readonly File[]): void => {
  const transfer = new DataTransfer()
  for (const file of files) transfer.items.add(file)
  const picker = find<HTMLInputElement>(element, `#${input}`)
  picker.files = transfer.files
  picker.dispatchEvent(new Event('change', { bubbles: true }))
}

export const choose = (element: HTMLElement, words: string): void => {
  const label = all(element, 'label').find(one => one.textContent?.includes(words))
  const input = label?.querySelector('input')
  if (!input) throw new Error(`no answer ${words}`)
  input.click()
}

/** Bytes of a picture that was not there before: each call draws one of another size. */
let made = 0
export const someJpeg = (): Promise<Uint8Array> => {
  made += 1
  return cameraPicture(200 + made, 150)
}

export const addTo = async (
  { casebook }: Phone,
  caseId: CaseId,
  said: { readonly shows: PhotoSubject; readonly on?: string; readonly note?: string },
): Promise<Uint8Array> => {
  const bytes = await someJpeg()
  expectOk(
    await casebook.addPhoto(caseId, { bytes, on: '2026-05-12', ...said } as Parameters<typeof casebook.addPhoto>[1]),
  )
  return bytes
}

export const untilPictures = (element: HTMLElement, count: number): Promise<void> =>
  until(element, () => {
    const images = all(element, '.thumb img') as readonly HTMLImageElement[]
    return images.length === count && images.every(image => image.complete && image.naturalWidth > 0)
  })

export const isOpen = (element: HTMLElement): boolean =>
  has(element, 'dialog') && find<HTMLDialogElement>(element, 'dialog').open

/** What has the focus, through all shadow roots. */
export const focused = (): HTMLElement | null => {
  let at = document.activeElement
  while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement
  return at as HTMLElement | null
}

/** True once an address of this page leads nowhere any more. */
export const isTakenBack = async (url: string): Promise<boolean> => {
  try {
    await fetch(url)
    return false
  } catch {
    return true
  }
}
