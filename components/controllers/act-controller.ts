import type { ReactiveController, ReactiveControllerHost } from 'lit'
import { announce } from '../app/announce.ts'
import { t } from '../text/text.ts'
import type { DraftResult } from './draft.ts'
import { whileWriting } from './writing.ts'

export type ActState =
  | { readonly status: 'still' }
  | { readonly status: 'saving' | 'saved'; readonly key: string }
  | { readonly status: 'failed'; readonly key: string; readonly message: string }

/**
 * One act at a time, saved as soon as a person does it: a tick, a check, a decision. `saved` is said only after the store
 * has committed; a second press while one is being saved does nothing.
 */
export class ActController implements ReactiveController {
  readonly #host: ReactiveControllerHost
  state: ActState = { status: 'still' }

  constructor(host: ReactiveControllerHost) {
    this.#host = host
    host.addController(this)
  }

  hostConnected(): void {}

  /** True once the store has committed. */
  async run(key: string, act: () => Promise<DraftResult>): Promise<boolean> {
    if (this.state.status === 'saving') return false
    this.#become({ status: 'saving', key })
    const result = await whileWriting(act)
    if (result.ok) {
      this.#become({ status: 'saved', key })
      announce(t('form.saved'))
    } else this.fail(key, t('form.notDone', { reason: result.message }))
    return result.ok
  }

  /** Refuses an act in words; nothing was saved. */
  fail(key: string, message: string): void {
    this.#become({ status: 'failed', key, message })
    announce(message)
  }

  isSaving(key: string): boolean {
    return this.state.status === 'saving' && this.state.key === key
  }

  isSaved(key: string): boolean {
    return this.state.status === 'saved' && this.state.key === key
  }

  errorOf(key: string): string | undefined {
    return this.state.status === 'failed' && this.state.key === key ? this.state.message : undefined
  }

  #become(state: ActState): void {
    this.state = state
    this.#host.requestUpdate()
  }
}
