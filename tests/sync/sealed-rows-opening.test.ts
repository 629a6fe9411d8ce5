import 'fake-indexeddb/auto'
import { expect, it, vi } from 'vitest'
import { caseIdSchema } from '../../src/ids.ts'
import { Database } from '../../sync/storage/database.ts'
import { SealedRows } from '../../sync/storage/sealed-rows.ts'
import { expectOk } from '../support/casebooks.ts'
import { freshName, testKeys } from '../support/sealed-stores.ts'

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)

it('opens each summary once for a casebook that asks for summaries and for rows without one, and anew for the next', async () => {
  const keys = await testKeys()
  const name = freshName()
  const rows = new SealedRows(expectOk(await Database.open(indexedDB, name)), keys)
  const cases = ['A', 'B', 'C'].map(letter => caseIdSchema.parse(`${letter.repeat(21)}A`))
  for (const caseId of cases) expectOk(await rows.append(caseId, [bytes(`row of ${caseId}`)], bytes(caseId)))
  const open = vi.spyOn(keys, 'open')

  const [summaries, without] = await Promise.all([rows.readSummaries(), rows.readWithoutSummary()])
  expect(summaries.map(one => new TextDecoder().decode(one)).sort()).toEqual([...cases].sort())
  expect(without).toEqual([])
  expect(open.mock.calls.map(([kind]) => kind)).toEqual(['summary', 'summary', 'summary'])

  // Nothing is kept from one time to the next: another tab may have written meanwhile.
  const [first] = cases
  if (!first) throw new Error('no case')
  expectOk(await rows.writeSummaries(new Map([[first, bytes('told anew')]])))
  expect((await rows.readSummaries()).map(one => new TextDecoder().decode(one))).toContain('told anew')
})
