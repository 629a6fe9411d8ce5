import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { accepted } from '../devices.ts'
import { meet } from '../meetings.ts'
import { registerReferral } from '../registering.ts'
import { lookAt, personOfKey, state, type Trip } from '../trip.ts'
import { counted, dueWords, listed } from '../words.ts'

const CATALOGUE_FILE = fileURLToPath(new URL('../../practice-catalogue.json', import.meta.url))

/** Registered twice: she is on no list yet when the trip begins. */
export const DOUBLE = { first: 'nemala', second: 'nemalla' } as const
/** Has had a chair since November. */
export const EARLIER = 'linnet'
export const FILLED_KPA = 400

/** The referral list, the chairs, and what is known of a chair given half a year ago. */
export const office = async (trip: Trip): Promise<void> => {
  const { notebook, coordinator, therapist, technician, trainee, people } = trip
  const { casebook } = coordinator
  const { models } = catalogueSchema.parse(JSON.parse(readFileSync(CATALOGUE_FILE, 'utf8')))
  for (const model of models) accepted(await casebook.setModel(model.key, model))
  accepted(await casebook.setPolicy(DEFAULT_POLICY))

  for (const person of people) if (person.key !== DOUBLE.second) await registerReferral(trip, coordinator, person)
  await state(trip, coordinator, EARLIER, {
    builtChair: 'low-seat',
    builtCushion: 'thin-foam',
    serialNumber: 'LK-9007',
  })
  const on = '2025-11-20'
  await state(trip, coordinator, EARLIER, {
    handover: { handedOverOn: on, serialNumber: 'LK-9007' },
    cushionIssued: { on, cushion: 'thin-foam' },
    tyreReading: { on, tyre: 'rear-left', leftKPa: FILLED_KPA, celsius: 24, altitudeM: 640 },
  })
  for (const phone of [therapist, technician, trainee]) await meet(coordinator, phone)

  notebook.heading(`${trip.calendar.today()}, at the office: one casebook, four devices`)
  const seen = technician.casebook
  const ready =
    seen.crew().members.size === 4 &&
    seen.context().catalogue.models.length === models.length &&
    seen.summaries().length === casebook.summaries().length
  notebook.turn(
    'the technician has the crew, the chairs and the referral list on his phone',
    ready && seen,
    () =>
      `The coordinator founds the casebook on her laptop, adds ${listed(
        [...seen.crew().members.values()]
          .filter(({ device }) => device !== casebook.device)
          .map(member => `${member.name} (${member.role})`)
          .sort(),
      )}, and hands each of them the secret face to face. Each phone takes home ${counted(
        seen.context().catalogue.models.length,
        'chair model',
      )}, the team's policy (${seen.context().policy.ruleSet}) and ${counted(
        seen.summaries().length,
        'person',
        'people',
      )} on the referral list. From here on there is no network.`,
  )
  const { outcome } = await lookAt(trip, coordinator, EARLIER)
  notebook.turn(
    'an earlier chair brings its dues along',
    outcome.dues.items.length > 0 && outcome.dues.items,
    items =>
      `${personOfKey(trip, EARLIER).name} has had a low seat chair since ${on}. What is due, worked out and not typed: ${listed(items.map(dueWords))}.`,
  )
}
