import { expect, test } from 'vitest'
import { expectOk, foundCasebook, heldBy, invite, meet, TODAY } from '../support/casebooks.ts'

const hip = (typed: number) => ({ hipWidthMm: { typed, unit: 'mm', how: 'tape' } })

test('what two devices recorded apart on one case stands on both after they met', async () => {
  const ana = await foundCasebook('Ana')
  const ben = await invite(ana, 'Ben')
  const { caseId } = expectOk(await ana.casebook.addCase({ kind: 'save', set: { personName: 'Invented One' } }))
  expect(await meet(ana.casebook, ben.casebook)).toEqual([])
  expectOk(await ana.casebook.save(caseId, { kind: 'save', set: hip(400) }))
  expectOk(await ben.casebook.save(caseId, { kind: 'save', set: hip(452) }))
  expect(await meet(ana.casebook, ben.casebook)).toEqual([])

  expect(await heldBy(ana.casebook)).toEqual(await heldBy(ben.casebook))
  const view = await ana.casebook.view(caseId)
  expect(view?.differences.map(({ field }) => field)).toEqual(['hipWidthMm'])
  expect(await ben.casebook.view(caseId)).toEqual(view)
  expect(await ana.casebook.outcome(caseId, TODAY)).toEqual(await ben.casebook.outcome(caseId, TODAY))
  await ana.casebook.settled()
  expect(ana.casebook.summaries().map(({ name, entryCount }) => [name, entryCount])).toEqual([['Invented One', 3]])

  const again = await ana.restart()
  expect(await heldBy(again.casebook)).toEqual(await heldBy(ana.casebook))
  expect(await again.casebook.view(caseId)).toEqual(view)
})
