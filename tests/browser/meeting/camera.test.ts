import { LitElement } from 'lit'
import { afterEach, describe, expect, it } from 'vitest'
import { StayAwakeController } from '../../../components/controllers/stay-awake.ts'
import { cameraFaultOf } from '../../../components/meeting/camera.ts'
import { codeReader } from '../../../components/meeting/code-reader.ts'

describe('reading codes', () => {
  const video = document.createElement('video')

  it('is left to the browser where it reads QR codes', async () => {
    const asked: unknown[] = []
    class Detector {
      static getSupportedFormats = async () => ['aztec', 'qr_code']
      constructor(options: unknown) {
        asked.push(options)
      }
      detect = async () => [{ rawValue: 'ITS OWN WORD' }]
    }
    expect(await (await codeReader(Detector))(video)).toBe('ITS OWN WORD')
    expect(asked).toEqual([{ formats: ['qr_code'] }])
  })

  it.each([
    ['reads other codes only', async () => ['aztec']],
    ['has a detector by name only', () => Promise.reject(new DOMException('', 'NotSupportedError'))],
  ])('is done by the app where the browser %s', async (_, getSupportedFormats) => {
    class Detector {
      static getSupportedFormats = getSupportedFormats
      detect = () => Promise.reject(new Error('asked a detector that reads no QR codes'))
    }
    expect(await (await codeReader(Detector))(await paintedVideo())).toBe(WORD)
  })

  it('goes over to the app when the browser’s detector fails at work', async () => {
    class Detector {
      static getSupportedFormats = async () => ['qr_code']
      detect = () => Promise.reject(new DOMException('', 'NotSupportedError'))
    }
    const read = await codeReader(Detector)
    const shown = await paintedVideo()
    expect(await read(shown)).toBeUndefined()
    expect(await read(shown)).toBe(WORD)
  })
})

const WORD = 'OUTSPOKE TEST 452'

/** A video whose picture is a QR code. */
const paintedVideo = async (): Promise<HTMLVideoElement> => {
  const { default: encodeQR } = await import('qr')
  const rows = encodeQR(WORD, 'raw', { ecc: 'medium', border: 4 })
  const canvas = document.createElement('canvas')
  canvas.width = rows.length * 8
  canvas.height = rows.length * 8
  const context = canvas.getContext('2d')
  if (!context) throw new Error('a canvas without pixels')
  const video = document.createElement('video')
  video.muted = true
  video.srcObject = canvas.captureStream()
  for (const [y, row] of rows.entries())
    for (const [x, dark] of row.entries()) {
      context.fillStyle = dark ? '#000' : '#fff'
      context.fillRect(x * 8, y * 8, 8, 8)
    }
  await video.play()
  return video
}

describe('what stops a camera', () => {
  it.each([
    // W3C, Media Capture and Streams, 10.2: what getUserMedia rejects with.
    ['NotAllowedError', 'refused'],
    ['NotFoundError', 'none'],
    ['OverconstrainedError', 'none'],
    ['NotReadableError', 'busy'],
    ['AbortError', 'busy'],
  ])('%s means %s', (name, fault) => {
    expect(cameraFaultOf(new DOMException('', name))).toBe(fault)
  })

  it('is its absence where the browser has no such thing', () => {
    expect(cameraFaultOf(new TypeError('undefined is not an object'))).toBe('none')
  })
})

describe('the screen', () => {
  let isWanted = true
  const asked: { released: boolean; release(): Promise<void> }[] = []
  const locks = {
    request: async () => {
      const lock = {
        released: false,
        release: async () => {
          lock.released = true
        },
      }
      asked.push(lock)
      return lock as unknown as WakeLockSentinel
    },
  }
  class Host extends LitElement {
    constructor() {
      super()
      new StayAwakeController(this, () => isWanted, locks)
    }
  }
  customElements.define('test-stays-awake', Host)
  afterEach(() => {
    asked.length = 0
    isWanted = true
  })
  const shown = async (): Promise<Host> => {
    const host = document.createElement('test-stays-awake') as Host
    document.body.append(host)
    await host.updateComplete
    return host
  }
  const held = (): number => asked.filter(({ released }) => !released).length

  it('stays on while it is wanted, once, and goes when its element goes', async () => {
    const host = await shown()
    host.requestUpdate()
    await host.updateComplete
    expect(held()).toBe(1)
    isWanted = false
    host.requestUpdate()
    await host.updateComplete
    expect(held()).toBe(0)
    isWanted = true
    host.requestUpdate()
    await host.updateComplete
    expect(held()).toBe(1)
    host.remove()
    expect(held()).toBe(0)
  })

  it('is asked for again when the system took it away and the page is back in sight', async () => {
    const host = await shown()
    const [taken] = asked
    if (!taken) throw new Error('nothing was asked for')
    taken.released = true
    document.dispatchEvent(new Event('visibilitychange'))
    await Promise.resolve()
    expect(held()).toBe(1)
    host.remove()
  })

  it('is not held by an element that went while it was asked for', async () => {
    const host = document.createElement('test-stays-awake') as Host
    document.body.append(host)
    host.remove()
    await host.updateComplete
    expect(held()).toBe(0)
  })
})
