import type { IncomingMessage, ServerResponse } from 'node:http'
import * as z from 'zod'
import type { Result } from '../../src/result.ts'
import { HUB_ANSWER_PATH } from '../transport/hub-path.ts'
import type { ShownCode } from '../transport/two-codes.ts'
import { securityHeaders } from './security-headers.ts'

/** Two codes and what stands around them (project value; a code to paste has some 250 letters). */
const MOST_BYTES = 4096

const givenSchema = z.strictObject({ offer: z.string(), answer: z.string() })

type Take = (answer: string) => Result<undefined, { readonly type: string; readonly message: string }>

/** Undefined for what is no such message, or is longer than any. */
const readGiven = async (request: IncomingMessage): Promise<z.infer<typeof givenSchema> | undefined> => {
  const parts: Buffer[] = []
  let bytes = 0
  for await (const part of request) {
    bytes += (part as Buffer).length
    if (bytes > MOST_BYTES) return undefined
    parts.push(part as Buffer)
  }
  try {
    return givenSchema.parse(JSON.parse(Buffer.concat(parts).toString('utf8')))
  } catch {
    // Not JSON, or JSON of another shape: told by the status.
    return undefined
  }
}

/**
 * How an answer comes to a laptop that reads no codes: the app on the phone that has scanned the laptop's screen gives it to
 * the hub it came from. Whoever does not bring the code from the screen with it has not stood before it, and is sent away.
 */
export class AnswerBox {
  #shown: ShownCode | undefined
  #take: Take | undefined

  /** From now on an answer to this code is handed to `take`. */
  open(shown: ShownCode, take: Take): void {
    this.#shown = shown
    this.#take = take
  }

  close(): void {
    this.#shown = undefined
    this.#take = undefined
  }

  /** True when the request was for this place: then it is answered. */
  handle(request: IncomingMessage, response: ServerResponse): boolean {
    if (request.url !== HUB_ANSWER_PATH) return false
    this.#statusOf(request).then(
      status => response.writeHead(status, securityHeaders(HUB_ANSWER_PATH)).end(),
      // The caller went away in the middle of it.
      () => response.destroy(),
    )
    return true
  }

  /** 204: taken. 404: no answer is waited for. 409: to another code than the one on the screen. 422: not an answer. */
  async #statusOf(request: IncomingMessage): Promise<number> {
    if (request.method !== 'POST') return 405
    // A page from elsewhere may send such a body nowhere without asking first (Fetch standard, CORS-safelisted request-header).
    if (request.headers['content-type'] !== 'application/json') return 415
    const given = await readGiven(request)
    if (!given) return 400
    const [shown, take] = [this.#shown, this.#take]
    if (!shown || !take) return 404
    if (given.offer !== shown.forQr && given.offer !== shown.forPasting) return 409
    return take(given.answer).ok ? 204 : 422
  }
}
