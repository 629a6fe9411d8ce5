import { describe, expect, it } from 'vitest'
import { build, check, choose, fitPerson, train, type Work } from '../../demo/practice/chair-work.ts'
import { expectOk } from '../support/casebooks.ts'
import { CASE_DAY, type PracticeCase, practiceCase } from '../support/practice-case.ts'

// The rule is the product's own: a chair cannot be recorded as handed over while a safety hold stands.

const workOn = ({ casebook, technician, caseId }: PracticeCase): Work => ({
  casebook,
  hand: technician,
  caseId,
  on: CASE_DAY,
})

/** A person whose chair is chosen, built, checked and fitted: nothing stands in the way. */
const ready = async (): Promise<PracticeCase> => {
  const practice = await practiceCase('hanneth')
  await choose(workOn(practice))
  await build(workOn(practice), 'LK-0021')
  await check(workOn(practice))
  await fitPerson(workOn(practice))
  await train(workOn(practice))
  return practice
}

const holdsOf = async ({ casebook, caseId }: PracticeCase): Promise<readonly string[]> =>
  ((await casebook.outcome(caseId, CASE_DAY))?.holds ?? []).map(hold => hold.key)

const handover = (more: Readonly<Record<string, unknown>> = {}) => ({
  handover: { handedOverOn: CASE_DAY, serialNumber: 'LK-0021', ...more },
})
const saveOf = ({ casebook, caseId }: PracticeCase, set: Readonly<Record<string, unknown>>) =>
  casebook.save(caseId, { kind: 'save', set })

/** Everything that a refused save must leave as it was. */
const heldBy = async ({ casebook, caseId }: PracticeCase) => ({
  ids: await casebook.entryIds(caseId),
  hash: Buffer.from(casebook.hashes().get(caseId) ?? []).toString('hex'),
  stage: (await casebook.outcome(caseId, CASE_DAY))?.stage,
})

describe('recording a handover', () => {
  it('is taken when nothing stands in the way', async () => {
    const practice = await ready()
    expect(await holdsOf(practice)).toEqual([])
    expect((await saveOf(practice, handover())).ok).toBe(true)
    expect((await practice.casebook.outcome(practice.caseId, CASE_DAY))?.stage).toBe('follow-up')
  })

  it('is refused while a hold stands, in words that name it; nothing is written; settled, the same save succeeds', async () => {
    const practice = await ready()
    const { id } = expectOk(await saveOf(practice, { fracture: true }))
    const before = await heldBy(practice)
    const refused = await saveOf(practice, handover())
    expect(refused).toMatchObject({ ok: false, failure: { type: 'held' } })
    expect(!refused.ok && refused.failure.message).toMatch(
      /handed over.*: risk fracture\..*what you typed is still there/,
    )
    expect(await heldBy(practice)).toEqual(before)

    const { casebook, caseId } = practice
    const why = 'Seen by the hospital: healed'
    expectOk(await casebook.save(caseId, { kind: 'settle', set: { fracture: false }, over: [id], why }))
    expect((await saveOf(practice, handover())).ok).toBe(true)
  })

  it('is judged with whatever else the same entry says', async () => {
    const practice = await ready()
    const broken = await saveOf(practice, { ...handover(), fracture: true })
    expect(!broken.ok && broken.failure.message).toContain('risk fracture')

    const { casebook, caseId } = practice
    const moving = (await casebook.view(caseId))?.heads.fitMoving?.map(head => head.id) ?? []
    const over = [
      expectOk(await casebook.save(caseId, { kind: 'save', set: { fitMoving: 'problem' }, over: moving })).id,
    ]
    expect(await holdsOf(practice)).toEqual(['fitting-fit-moving'])
    expect((await saveOf(practice, handover())).ok).toBe(false)
    const set = { ...handover(), fitMoving: 'ok' }
    expect((await casebook.save(caseId, { kind: 'save', set, over })).ok).toBe(true)
  })

  it('of a temporary chair is the answer to "cannot issue today", and to no other hold', async () => {
    const practice = await ready()
    expectOk(await saveOf(practice, { cannotIssue: { what: 'wait', why: 'The right size comes in August' } }))
    const lent = handover({ temporaryUntil: '2026-08-01' })
    const lasting = await saveOf(practice, handover())
    expect(!lasting.ok && lasting.failure.message).toContain('cannot issue wait')
    expect((await saveOf(practice, { ...lent, seizures: true })).ok).toBe(false)
    expect((await saveOf(practice, lent)).ok).toBe(true)
  })

  it('of another device counts all the same: nothing is lost, and the hold goes on showing', async () => {
    const practice = await ready()
    expectOk(await saveOf(practice, { fracture: true }))
    await practice.technician.say(practice.caseId, [{ on: CASE_DAY, set: handover() }])
    const view = await practice.casebook.view(practice.caseId)
    expect(view?.events.handover.map(({ value }) => value)).toEqual([handover().handover])
    expect(await holdsOf(practice)).toEqual(['risk-fracture'])
  })

  it('of a day before the person began to wait tells of an earlier chair, whatever stands in the way of the next', async () => {
    const practice = await practiceCase('hanneth')
    const referredOn = (await practice.casebook.view(practice.caseId))?.values.referredOn
    expect(referredOn).toBe('2026-03-11')
    expect(await holdsOf(practice)).toContain('not-chosen')
    expect((await saveOf(practice, handover({ handedOverOn: referredOn }))).ok).toBe(false)
    expect((await saveOf(practice, handover({ handedOverOn: '2026-03-10' }))).ok).toBe(true)
  })

  it('as the first thing said of anybody is refused, and no case is begun', async () => {
    const { casebook } = await practiceCase('hanneth')
    const before = casebook.summaries().length
    const refused = await casebook.addCase({ kind: 'save', set: { personName: 'Ansa Korelle', ...handover() } })
    expect(!refused.ok && refused.failure.type).toBe('held')
    expect(casebook.summaries()).toHaveLength(before)
  })
})
