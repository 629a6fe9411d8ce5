import type { FieldValue } from '../../src/case/fields.ts'
import { KPA_PER_BAR, KPA_PER_PSI } from '../../src/units.ts'
import { type Answer, yesNo } from '../case/answers.ts'
import type { PartFacts } from '../case/case-part.ts'
import { latestHandover } from '../case/latest-handover.ts'
import { modelIn } from '../case/set-up-words.ts'
import { t } from '../text/text.ts'
import { type EventFormSpec, type Part, type Said, text, textPart } from './event-form-spec.ts'

const KEY_BYTES = 6

/** Tells one problem from another of the same person, also when two phones write one down at once. */
const newProblemKey = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(KEY_BYTES)), byte => byte.toString(36).padStart(2, '0')).join('')

/** Problems that no later repair has left mended, the latest report of each. */
export const openProblems = ({ view }: PartFacts): readonly FieldValue<'problem'>[] => {
  const { problem, repair } = view.events
  const latest = new Map(problem.map(({ value }) => [value.key, value]))
  return [...latest.values()].filter(
    ({ key, reportedOn }) =>
      !repair.some(({ value }) => value.problem === key && value.chairUsable && value.repairedOn >= reportedOn),
  )
}

export const problemForm: EventFormSpec<'problem'> = {
  name: 'problem',
  title: 'followUp.problem',
  defaults: ({ outcome }) => ({ reportedOn: outcome.today }),
  parts: () => [
    { kind: 'date', key: 'reportedOn', label: 'followUp.reportedOn', needed: true },
    { kind: 'text', key: 'what', label: 'followUp.what', most: 400, lines: 2, needed: true },
    { kind: 'answers', key: 'unsafe', label: 'followUp.unsafe', needed: true, answers: yesNo() },
  ],
  toEvent: said => ({
    reportedOn: said.reportedOn as FieldValue<'problem'>['reportedOn'],
    key: newProblemKey(),
    unsafe: said.unsafe === true,
    what: text(said, 'what'),
  }),
}

const NO_PROBLEM = ''

export const repairForm: EventFormSpec<'repair'> = {
  name: 'repair',
  title: 'followUp.repair',
  defaults: ({ outcome }) => ({ repairedOn: outcome.today }),
  parts: facts => {
    const open = openProblems(facts)
    const crew = [...facts.app.casebook.crew().members.values()].map(member => member.name)
    const { localRepairer } = facts.view.values
    return [
      { kind: 'date', key: 'repairedOn', label: 'followUp.repairedOn', needed: true },
      ...(open.length === 0
        ? []
        : [
            {
              kind: 'answers',
              key: 'problem',
              label: 'followUp.whichProblem',
              needed: true,
              answers: [
                ...open.map(({ key, what }) => ({ value: key, words: what })),
                { value: NO_PROBLEM, words: t('followUp.noProblem') },
              ],
            } as const,
          ]),
      { kind: 'text', key: 'part', label: 'followUp.part', most: 60, needed: true },
      { kind: 'text', key: 'fault', label: 'followUp.fault', most: 200, lines: 2, needed: true },
      { kind: 'text', key: 'cause', label: 'followUp.cause', most: 200, lines: 2, needed: false },
      { kind: 'answers', key: 'chairUsable', label: 'followUp.chairUsable', needed: true, answers: yesNo() },
      {
        kind: 'text',
        key: 'doneBy',
        label: 'followUp.doneBy',
        hint: 'followUp.doneByHint',
        most: 120,
        needed: false,
        suggestions: [...crew, ...(localRepairer ? [localRepairer] : [])],
      },
    ]
  },
  toEvent: said => ({
    repairedOn: said.repairedOn as FieldValue<'repair'>['repairedOn'],
    ...textPart(said, 'problem'),
    part: text(said, 'part'),
    fault: text(said, 'fault'),
    ...textPart(said, 'cause'),
    chairUsable: said.chairUsable === true,
    ...textPart(said, 'doneBy'),
  }),
}

const TYRES = ['rear-left', 'rear-right', 'caster-left', 'caster-right'] as const
const GAUGES = ['kPa', 'psi', 'bar'] as const
const KPA_PER = { kPa: 1, psi: KPA_PER_PSI, bar: KPA_PER_BAR } as const
const MOST_KPA = 1500

const inKPa = (said: Said, typed: number): { value: number; words: string } => {
  const unit = GAUGES.find(one => one === said.unit) ?? 'kPa'
  const value = Math.round(typed * KPA_PER[unit])
  return { value, words: unit === 'kPa' ? '' : t('followUp.inKPa', { value }) }
}

const pressurePart = (key: 'found' | 'left', said: Said): Part => ({
  kind: 'number',
  key,
  label: key === 'found' ? 'followUp.foundPressure' : 'followUp.leftPressure',
  needed: false,
  least: 0,
  most: MOST_KPA,
  unit: 'kPa',
  inOwnUnit: typed => inKPa(said, typed),
})

/** Tyres of the chair in use that hold air; all where the chair is not known. */
const tyresOf = ({ view, outcome, context }: PartFacts): readonly Answer<string>[] => {
  const model = modelIn(context.catalogue, view.values.builtChair ?? outcome.target?.setUp.chair ?? '')
  const holdsAir = (tyre: (typeof TYRES)[number]): boolean =>
    model === undefined || (tyre.startsWith('rear') ? model.tyres.rear : model.tyres.caster) !== 'solid'
  return TYRES.filter(holdsAir).map(value => ({ value, words: t(`followUp.${value}`) }))
}

export const tyreForm: EventFormSpec<'tyreReading'> = {
  name: 'tyreReading',
  title: 'followUp.tyreReading',
  isShown: facts => tyresOf(facts).length > 0,
  defaults: ({ outcome, view }) => {
    const last = view.events.tyreReading.at(-1)?.value
    return { on: outcome.today, unit: 'kPa', ...(last ? { altitudeM: String(last.altitudeM) } : {}) }
  },
  parts: (facts, said) => [
    { kind: 'date', key: 'on', label: 'followUp.on', needed: true },
    { kind: 'answers', key: 'tyre', label: 'followUp.tyre', needed: true, answers: tyresOf(facts) },
    {
      kind: 'answers',
      key: 'unit',
      label: 'followUp.pressureUnit',
      needed: true,
      answers: GAUGES.map(value => ({ value, words: t(`unit.${value}`) })),
    },
    pressurePart('found', said),
    pressurePart('left', said),
    { kind: 'number', key: 'celsius', label: 'followUp.celsius', needed: true, least: -40, most: 60, unit: 'celsius' },
    { kind: 'number', key: 'altitudeM', label: 'followUp.altitude', needed: true, least: -450, most: 6000, unit: 'm' },
    { kind: 'answers', key: 'puncture', label: 'followUp.puncture', needed: false, answers: yesNo() },
  ],
  lacks: said =>
    text(said, 'found') === '' && text(said, 'left') === ''
      ? { key: 'found', words: 'followUp.pressureNeeded' }
      : undefined,
  toEvent: said => ({
    on: said.on as FieldValue<'tyreReading'>['on'],
    tyre: said.tyre as FieldValue<'tyreReading'>['tyre'],
    ...(said.found === undefined || said.found === '' ? {} : { foundKPa: Number(said.found) }),
    ...(said.left === undefined || said.left === '' ? {} : { leftKPa: Number(said.left) }),
    celsius: Number(said.celsius),
    altitudeM: Number(said.altitudeM),
    ...(said.puncture === true ? { puncture: true } : {}),
  }),
}

export const returnForm: EventFormSpec<'chairReturned'> = {
  name: 'chairReturned',
  title: 'followUp.chairReturned',
  hint: 'followUp.returnHint',
  isShown: ({ view }) => view.events.handover.length > 0,
  defaults: ({ outcome, view }) => {
    const serialNumber = latestHandover(view)?.serialNumber
    return { on: outcome.today, ...(serialNumber ? { serialNumber } : {}) }
  },
  parts: ({ view }) => [
    { kind: 'date', key: 'on', label: 'followUp.on', needed: true },
    {
      kind: 'text',
      key: 'serialNumber',
      label: 'followUp.serialNumber',
      most: 60,
      needed: false,
      suggestions: view.events.handover.flatMap(({ value }) => value.serialNumber ?? []),
    },
  ],
  toEvent: said => ({ on: said.on as FieldValue<'chairReturned'>['on'], ...textPart(said, 'serialNumber') }),
}

export const cushionForm: EventFormSpec<'cushionIssued'> = {
  name: 'cushionIssued',
  title: 'followUp.cushionIssued',
  isShown: ({ view, outcome, context }) =>
    modelIn(context.catalogue, view.values.builtChair ?? outcome.target?.setUp.chair ?? '') !== undefined,
  defaults: ({ outcome }) => ({ on: outcome.today }),
  parts: ({ view, outcome, context }) => {
    const model = modelIn(context.catalogue, view.values.builtChair ?? outcome.target?.setUp.chair ?? '')
    return [
      { kind: 'date', key: 'on', label: 'followUp.on', needed: true },
      {
        kind: 'answers',
        key: 'cushion',
        label: 'fit.cushion',
        needed: true,
        answers: (model?.cushions ?? []).map(({ key, title }) => ({ value: key, words: title })),
      },
    ]
  },
  toEvent: said => ({ on: said.on, cushion: said.cushion }) as FieldValue<'cushionIssued'>,
}
