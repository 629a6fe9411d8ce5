import { writeFile } from 'node:fs/promises'
import encodeQR from 'qr'

const WIDTH = 640
const HEIGHT = 480
/** Pixels for a square of the code: one of 60 squares is 420 pixels high. */
const SQUARE = 7
const FRAMES = 10
const GREY = 128
const TABLE = 140

/** What the camera sees: the code in black on white, upright in the middle of a grey table. Luma alone. */
const picture = (text: string): Uint8Array => {
  const rows = encodeQR(text, 'raw', { ecc: 'medium', border: 2 })
  const size = rows.length * SQUARE
  const [left, top] = [(WIDTH - size) >> 1, (HEIGHT - size) >> 1]
  if (top < 0) throw new Error(`a code of ${rows.length} squares does not fit the film`)
  const luma = new Uint8Array(WIDTH * HEIGHT).fill(TABLE)
  for (let y = 0; y < size; y += 1)
    for (let x = 0; x < size; x += 1) {
      const dark = rows[Math.floor(y / SQUARE)]?.[Math.floor(x / SQUARE)]
      luma[(top + y) * WIDTH + left + x] = dark ? 16 : 235
    }
  return luma
}

/** Writes a film of a code that is held before the camera (YUV4MPEG2, as Chromium's camera for tests reads it). */
export const filmCode = async (path: string, text: string): Promise<void> => {
  const colours = new Uint8Array((WIDTH * HEIGHT) / 2).fill(GREY)
  const frame = [Buffer.from('FRAME\n'), picture(text), colours]
  const header = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`)
  await writeFile(path, Buffer.concat([header, ...Array.from({ length: FRAMES }, () => frame).flat()]))
}
