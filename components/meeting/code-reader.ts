/** Finds a QR code in what a video shows at this moment. */
export type CodeReader = (video: HTMLVideoElement) => Promise<string | undefined>

/** The part of the browser's own detector that is used (W3C community draft, Accelerated Shape Detection in Images). */
interface Detector {
  detect(source: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>
}
interface DetectorKind {
  new (options: { readonly formats: readonly string[] }): Detector
  getSupportedFormats(): Promise<readonly string[]>
}

/** Longest side of the picture that our own decoder looks at: a code that fills a third of it is read (project value). */
const LONGEST_SIDE = 800

const nativeReader = async (kind: DetectorKind | undefined): Promise<CodeReader | undefined> => {
  try {
    if (!(await kind?.getSupportedFormats())?.includes('qr_code') || !kind) return undefined
    const detector = new kind({ formats: ['qr_code'] })
    return async video => (await detector.detect(video))[0]?.rawValue
  } catch {
    // A detector that is there by name only, as where the system has no such service.
    return undefined
  }
}

/** Of each picture only its pixels are looked at, in one canvas that is written over by the next. */
const ownReader = async (): Promise<CodeReader> => {
  const { decodeQR } = await import('qr/decode.js')
  const canvas = document.createElement('canvas')
  const context = canvas.getContext('2d', { willReadFrequently: true })
  if (!context) throw new Error('a canvas without pixels')
  return async video => {
    const scale = Math.min(1, LONGEST_SIDE / Math.max(video.videoWidth, video.videoHeight))
    canvas.width = Math.round(video.videoWidth * scale)
    canvas.height = Math.round(video.videoHeight * scale)
    context.drawImage(video, 0, 0, canvas.width, canvas.height)
    try {
      return decodeQR(context.getImageData(0, 0, canvas.width, canvas.height))
    } catch {
      // No code in this picture: the next one may hold it.
      return undefined
    }
  }
}

const browsersKind = (): DetectorKind | undefined =>
  Reflect.get(globalThis, 'BarcodeDetector') as DetectorKind | undefined

/** The browser's own detector where it reads QR codes, else, or once it fails, a decoder that is loaded only here. */
export const codeReader = async (kind = browsersKind()): Promise<CodeReader> => {
  let reader = (await nativeReader(kind)) ?? (await ownReader())
  return async video => {
    try {
      return await reader(video)
    } catch {
      reader = await ownReader()
      return undefined
    }
  }
}
