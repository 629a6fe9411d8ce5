import { chai, JestAsymmetricMatchers, JestChaiExpect, JestExtend } from '@vitest/expect'

/**
 * What `import ... from 'vitest'` gives in a browser test: the runner there is mocha, the matchers are vitest's own. So one
 * contract suite runs in Node and in the browser unchanged. Only what stands here is there.
 */
type Work = () => unknown
type Suite = (name: string, work: Work) => void
interface Mocha {
  readonly describe: Suite
  readonly it: Suite
  readonly before: (work: Work) => void
  readonly after: (work: Work) => void
  readonly beforeEach: (work: Work) => void
  readonly afterEach: (work: Work) => void
}

const mocha = globalThis as unknown as Mocha

chai.use(JestExtend)
chai.use(JestChaiExpect)
chai.use(JestAsymmetricMatchers)

export const expect = chai.expect

/** `%s` and `%i` in a title are filled from the row, as `it.each` does in Node. */
const titleOf = (title: string, row: readonly unknown[]): string => {
  const values = [...row]
  return title.replace(/%[sdi]/g, () => String(values.shift()))
}

const eachOf =
  (run: Suite) =>
  (rows: readonly unknown[]) =>
  (title: string, work: (...row: readonly unknown[]) => unknown): void => {
    for (const row of rows) {
      const values = Array.isArray(row) ? row : [row]
      run(titleOf(title, values), () => work(...values))
    }
  }

export const describe = Object.assign(((name, work) => mocha.describe(name, work)) satisfies Suite, {
  each: eachOf((name, work) => mocha.describe(name, work)),
})
export const it = Object.assign(((name, work) => mocha.it(name, work)) satisfies Suite, {
  each: eachOf((name, work) => mocha.it(name, work)),
})
export const test = it
export const beforeAll = (work: Work): void => mocha.before(work)
export const afterAll = (work: Work): void => mocha.after(work)
export const beforeEach = (work: Work): void => mocha.beforeEach(work)
export const afterEach = (work: Work): void => mocha.afterEach(work)
