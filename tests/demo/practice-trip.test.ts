import { beforeAll, describe, expect, it } from 'vitest'
import { groupOf } from '../../components/people/people-order.ts'
import type { PracticeCasebook } from '../../demo/practice/crew-hand.ts'
import { PRACTICE_PEOPLE } from '../../demo/practice-people.ts'
import { PRACTICE_DAY, setOutOnPracticeTrip } from '../../demo/practice-trip.ts'
import { outcomeRules } from '../../sync/outcome-rules.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'

let casebook: PracticeCasebook
const told: number[] = []

beforeAll(async () => {
  const { deviceKey } = await createDeviceKey()
  casebook = await setOutOnPracticeTrip({
    storage: createMemoryStorage().open(),
    deviceKey,
    rules: outcomeRules(),
    clock: () => Date.parse(`${PRACTICE_DAY}T10:00:00Z`),
    today: () => PRACTICE_DAY,
    progress: done => told.push(done),
  })
  await casebook.settled()
})

const briefOf = (name: string) => {
  const found = casebook.summaries().find(one => one.name === name)
  if (!found?.brief) throw new Error(`${name} is not on the list`)
  return found.brief
}

describe('the practice trip', () => {
  it('has every practice person, and says how far it is on the way', () => {
    const names = casebook.summaries().map(one => one.name)
    expect(names.toSorted()).toEqual(PRACTICE_PEOPLE.map(person => person.name).toSorted())
    expect(told).toEqual(PRACTICE_PEOPLE.map((_, index) => index + 1))
    expect(casebook.problems()).toEqual([])
  })

  it('has somebody in every part of the list', () => {
    const groups = new Set(casebook.summaries().map(one => groupOf(one, PRACTICE_DAY)))
    expect([...groups].toSorted()).toEqual(
      ['closed', 'due', 'inTheWay', 'inWork', 'later', 'overdue', 'waiting', 'withPerson'].toSorted(),
    )
  })

  it('shows two readings of one hip by two of the crew, one pair that matters and one that does not', async () => {
    expect(briefOf('Hanneth Ogiwe').differences).toEqual(['hipWidthMm'])
    expect(briefOf('Ossian Perewode').differences).toEqual([])
    const caseId = casebook.summaries().find(one => one.name === 'Hanneth Ogiwe')?.caseId
    const view = caseId && (await casebook.view(caseId))
    const authors = new Set(view?.heads.hipWidthMm?.map(head => casebook.crew().members.get(head.by)?.name))
    expect([...authors].toSorted()).toEqual(['Joss Karrovin', 'Sira Vellanke'])
  })

  it('has a chair built before the news came: checks are stale and steps are to be redone', () => {
    const { checks, stepsToDo } = briefOf('Selka Imbaru')
    expect(checks.stale).toContain('brakesHold')
    expect(stepsToDo).toBeGreaterThan(0)
  })

  it('refers an open sore, though the chair is ready', () => {
    expect(briefOf('Davor Quillan')).toMatchObject({ holds: ['present-sore'], refer: 'health' })
  })

  it('has a child whose growth is forecast, and somebody for whom everything is done', () => {
    expect(briefOf('Tavi Morhale').dues.map(due => due.key.split(' ')[0])).toContain('growth')
    expect(briefOf('Ansa Korelle')).toMatchObject({ stage: 'handover', holds: [] })
  })
})
