import type { Camera } from '../../../components/meeting/camera.ts'
import { find, until } from '../case/practice-case.ts'

const WIDTH = 640
const HEIGHT = 480
/** A code as somebody holds it: a third of the picture high, and a little crooked. */
const CODE_SIZE = 300
const TILT_RADIANS = 0.12

export interface CanvasCamera extends Camera {
  /** Holds the code that is on the screen of this element before the camera. */
  holdBefore(element: HTMLElement): Promise<void>
  /** How many of the streams that were given out still run. */
  running(): number
}

/** The picture of a QR code as the browser paints it, from what is on screen. */
const paintedCode = async (element: HTMLElement): Promise<HTMLImageElement> => {
  const text = new XMLSerializer().serializeToString(find(element, 'spoke-code-shown svg, .code svg'))
  const image = new Image()
  image.src = `data:image/svg+xml,${encodeURIComponent(text)}`
  image.width = CODE_SIZE
  image.height = CODE_SIZE
  await image.decode()
  return image
}

/** A camera that sees a grey table, and on it the code that is held before it. */
export const canvasCamera = (): CanvasCamera => {
  const canvas = document.createElement('canvas')
  canvas.width = WIDTH
  canvas.height = HEIGHT
  const context = canvas.getContext('2d')
  if (!context) throw new Error('a canvas without pixels')
  const tracks: MediaStreamTrack[] = []
  let code: HTMLImageElement | undefined
  const running = (): number => tracks.filter(track => track.readyState === 'live').length
  const paint = (): void => {
    context.setTransform(1, 0, 0, 1, 0, 0)
    context.fillStyle = '#8a8577'
    context.fillRect(0, 0, WIDTH, HEIGHT)
    context.translate(WIDTH / 2, HEIGHT / 2)
    context.rotate(TILT_RADIANS)
    if (code) context.drawImage(code, -CODE_SIZE / 2, -CODE_SIZE / 2, CODE_SIZE, CODE_SIZE)
    if (running() > 0) requestAnimationFrame(paint)
  }
  return {
    open: async () => {
      const stream = canvas.captureStream()
      tracks.push(...stream.getTracks())
      paint()
      return stream
    },
    holdBefore: async element => {
      await until(element, () => element.shadowRoot !== null)
      code = await paintedCode(element)
    },
    running,
  }
}
