import { type Camera, closeCamera } from './camera.ts'
import { type CodeReader, codeReader } from './code-reader.ts'

/** Comes with the next picture of a video. */
const nextPicture = (video: HTMLVideoElement): Promise<unknown> =>
  new Promise(resolve => {
    if ('requestVideoFrameCallback' in video) video.requestVideoFrameCallback(resolve)
    else requestAnimationFrame(resolve)
  })

/** Looks through a camera for codes until it is stopped. Pictures are looked at one after the other, and none is kept. */
export class CameraScan {
  readonly #video: HTMLVideoElement
  readonly #read: (text: string) => void
  #stream: MediaStream | undefined
  #isStopped = false

  /** `read` is told a text once, however long it is held before the camera. */
  constructor(video: HTMLVideoElement, read: (text: string) => void) {
    this.#video = video
    this.#read = read
  }

  /** Comes when there is a picture; rejects as `open` of the camera does. */
  async start(camera: Camera, loadReader: () => Promise<CodeReader> = codeReader): Promise<void> {
    const [stream, reader] = await Promise.all([camera.open(), loadReader()])
    if (this.#isStopped) return closeCamera(stream)
    this.#stream = stream
    this.#video.srcObject = stream
    await this.#video.play()
    void this.#look(reader)
  }

  /** Lets go of the camera at once. */
  stop(): void {
    this.#isStopped = true
    if (this.#stream) closeCamera(this.#stream)
    this.#video.srcObject = null
  }

  async #look(reader: CodeReader): Promise<void> {
    let last: string | undefined
    while (!this.#isStopped) {
      await nextPicture(this.#video)
      if (this.#isStopped || this.#video.videoWidth === 0) continue
      const text = await reader(this.#video)
      if (this.#isStopped || text === undefined || text === '' || text === last) continue
      last = text
      this.#read(text)
    }
  }
}
