import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { bodyOf } from '../../src/body/measurements.ts'
import type { Person } from '../../src/body/person.ts'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { type Catalogue, catalogueSchema } from '../../src/chair/chair-model.ts'
import { toSetUp } from '../../src/chair/set-up.ts'
import { sitterOf } from '../../src/fitting/loaded-chair.ts'
import { needsOf } from '../../src/fitting/needs.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import { recommend } from '../../src/fitting/recommend.ts'
import { type Found, searchCatalogue, setUpCount } from '../../src/fitting/search.ts'
import { readPeopleTable } from '../../sync/desk/people-table.ts'
import { WORKED_MAN } from '../support/example-chairs.ts'
import { enumerateCatalogue, enumerateSharing } from '../support/exhaustive.ts'
import { median, printTable, ratio, round, timed } from './measure.ts'

const TODAY = toCalendarDate('2026-11-25')
const RUNS = 25
const WARM_UP = 10

const read = (path: string): string => readFileSync(fileURLToPath(new URL(path, import.meta.url)), 'utf8')
const practice = catalogueSchema.parse(JSON.parse(read('../../demo/practice-catalogue.json')))

/** Every second size, height, hole and step: what an enumeration that starts from nothing for each set-up can visit. */
const thinned = (catalogue: Catalogue): Catalogue => {
  const half = <Value>(rows: readonly Value[]): Value[] => rows.filter((_, index) => index % 2 === 0)
  return {
    ...catalogue,
    models: catalogue.models.map(model => ({
      ...model,
      seatWidthsMm: half(model.seatWidthsMm),
      seatDepths: half(model.seatDepths),
      backHeights: half(model.backHeights),
      footrest: { ...model.footrest, stepMm: model.footrest.stepMm * 3 },
      ...(model.armrest ? { armrest: { ...model.armrest, stepMm: model.armrest.stepMm * 3 } } : {}),
    })),
  }
}

const countOf = (catalogue: Catalogue): number => catalogue.models.reduce((sum, model) => sum + setUpCount(model), 0)

const partsOf = (person: Person) => {
  const { body } = bodyOf(person, TODAY)
  if (!body) throw new Error('the benchmark needs a measured person')
  return { sitter: sitterOf(person, body), needs: needsOf(person, body, DEFAULT_POLICY) }
}

/** The ten best as text: the question the issue asks both ways. */
const best10 = ({ candidates }: Found): string =>
  JSON.stringify(candidates.slice(0, 10).map(({ setUp, misfit }) => [misfit, toSetUp(setUp)]))

const compareWith = async (name: string, catalogue: Catalogue, slowly: typeof enumerateCatalogue) => {
  const { sitter, needs } = partsOf(WORKED_MAN)
  const question = [sitter, needs, catalogue, DEFAULT_POLICY] as const
  for (let run = 0; run < WARM_UP; run += 1) searchCatalogue(...question)
  const times: number[] = []
  for (let run = 0; run < RUNS; run += 1) times.push((await timed(async () => searchCatalogue(...question))).ms)
  const slow = await timed(async () => slowly(...question))
  const same = best10(searchCatalogue(...question)) === best10(slow.value)
  const fastMs = median(times)
  return {
    enumeration: name,
    'set-ups': countOf(catalogue),
    'search ms': round(fastMs, 2),
    'enumeration ms': round(slow.ms, 0),
    'times faster': ratio(slow.ms, fastMs),
    'best 10': same ? 'same' : 'DIFFERENT',
  }
}

/** Best 10 for one person against enumeration, and how many people a second one process fits. */
export const run = async (): Promise<void> => {
  printTable('Best 10 set-ups for one person: the search against enumeration of every set-up (same answer checked)', [
    await compareWith('sharing mechanics, whole practice catalogue', practice, enumerateSharing),
    await compareWith('each set-up from nothing, thinned catalogue', thinned(practice), enumerateCatalogue),
  ])
  const people = readPeopleTable(read('../published/ansur-ii-half.csv'), {}).rows.flatMap(row =>
    row.ok ? [row.person] : [],
  )
  for (const person of people.slice(0, 200)) recommend(person, practice, DEFAULT_POLICY, TODAY, { top: 1 })
  const all = await timed(async () =>
    people.map(person => recommend(person, practice, DEFAULT_POLICY, TODAY, { top: 1 }).options.length),
  )
  printTable('Real bodies (half of ANSUR II 2012), best set-up with its reasons, one process', [
    {
      people: people.length,
      seconds: round(all.ms / 1000, 2),
      'people a second': round((people.length / all.ms) * 1000, 0),
    },
  ])
}
