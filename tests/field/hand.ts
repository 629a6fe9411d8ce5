import type { Locator, Page } from 'playwright-core'

type Words = string | RegExp

/**
 * A hand on the screen of a phone. It taps, and types letters into what it tapped; it finds things by what they are called
 * on screen, as a person does. What it waits for is said on screen.
 */
export class Hand {
  readonly page: Page

  constructor(page: Page) {
    this.page = page
  }

  async touch(found: Locator): Promise<void> {
    await found.tap()
  }

  /** Taps an answer, and sees it marked. */
  async mark(answer: Locator): Promise<void> {
    await this.touch(answer)
    await answer.and(this.page.locator(':checked')).waitFor()
  }

  async tap(name: Words, within: Locator | Page = this.page): Promise<void> {
    await this.touch(within.getByRole('button', { name, exact: true }))
  }

  async follow(name: Words): Promise<void> {
    await this.touch(this.page.getByRole('link', { name, exact: true }))
  }

  /** Writes into an empty text field, once the keyboard would be up. */
  async write(name: Words, letters: string, within: Locator | Page = this.page): Promise<void> {
    const named = { name, exact: true }
    const field = within.getByRole('textbox', named).or(within.getByRole('combobox', named))
    await this.touch(field)
    await field.and(this.page.locator(':focus')).waitFor()
    await this.page.keyboard.type(letters)
  }

  /** One answer to a question: the name of the answer, or how it begins. */
  async pick(question: Words, answer: Words): Promise<void> {
    await this.mark(this.#group(question).getByRole('radio', { name: answer, exact: true }))
  }

  /** One of several answers to a question. */
  async tick(question: Words, answer: Words): Promise<void> {
    await this.mark(this.#group(question).getByRole('checkbox', { name: answer, exact: true }))
  }

  /** Types a number on the keys that the app shows. */
  async press(number: string): Promise<void> {
    for (const key of number) await this.tap(key === '.' ? 'decimal point' : key)
  }

  async sees(words: Words, within: Locator | Page = this.page): Promise<void> {
    await within.getByText(words).filter({ visible: true }).first().waitFor()
  }

  /** Waits until these words stand where the eye is, not only somewhere on a long page. */
  async hasInSight(words: Words): Promise<void> {
    await this.#inSight(this.page.getByText(words).filter({ visible: true }).first())
  }

  async seesHeading(name: Words, level?: number): Promise<void> {
    await this.page.getByRole('heading', { name, exact: true, ...(level ? { level } : {}) }).waitFor()
  }

  /** Opens a part of the case, or a question of it, and waits until it is open. */
  async open(part: string): Promise<void> {
    const button = this.#opener(part)
    if ((await button.getAttribute('aria-expanded')) === 'true') return
    await this.touch(button)
    await this.isOpen(part)
  }

  async isOpen(part: string): Promise<void> {
    await this.#inSight(this.page.getByRole('button', { name: beginning(part), expanded: true }))
  }

  /** Waits until a closed part says these words about itself. */
  async partSays(part: string, words: string): Promise<void> {
    await this.#opener(part).filter({ hasText: words }).waitFor()
  }

  /** What lists of terms say, a line each: "Place: Reed Landing". */
  async lines(within: Locator): Promise<readonly string[]> {
    const [terms, definitions] = await Promise.all([
      within.getByRole('term').allTextContents(),
      within.getByRole('definition').allTextContents(),
    ])
    return terms.map((term, index) => plain(`${term}: ${definitions[index] ?? ''}`))
  }

  async #inSight(found: Locator): Promise<void> {
    await found.evaluate(
      element =>
        new Promise<void>(settle => {
          const watch = new IntersectionObserver(seen => {
            if (!seen.some(one => one.isIntersecting)) return
            watch.disconnect()
            settle()
          })
          watch.observe(element)
        }),
    )
  }

  #group(name: Words): Locator {
    return this.page.getByRole('group', { name, exact: true })
  }

  #opener(part: string): Locator {
    return this.page.getByRole('button', { name: beginning(part) }).and(this.page.locator('[aria-expanded]'))
  }
}

/** Spaces that do not break are spaces to a reader. */
export const plain = (text: string): string => text.replace(/\s+/g, ' ').trim()

const beginning = (words: string): RegExp => new RegExp(`^${words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`)
