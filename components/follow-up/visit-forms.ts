import type { FieldValue } from '../../src/case/fields.ts'
import type { Answer } from '../case/answers.ts'
import { optionLabel } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { type EventFormSpec, type Part, text, textPart } from './event-form-spec.ts'

type Review = FieldValue<'review'>
const GRADES = ['ok', 'problem', 'not-done'] as const
const grades = (): readonly Answer<string>[] => GRADES.map(value => ({ value, words: optionLabel('fitSize', value) }))
const LIKERT = [1, 2, 3, 4, 5]

const graded = (key: 'fit' | 'skin' | 'chair' | 'skills'): Part => ({
  kind: 'answers',
  key,
  label: `followUp.${key}`,
  hint: `followUp.${key}Hint`,
  needed: true,
  answers: grades(),
})
const scale = (key: 'satisfactionChair' | 'satisfactionService'): Part => ({
  kind: 'answers',
  key,
  label: `followUp.${key}`,
  hint: 'followUp.satisfactionScale',
  needed: false,
  tiny: true,
  answers: LIKERT.map(value => ({ value, words: String(value) })),
})

export const reviewForm: EventFormSpec<'review'> = {
  name: 'review',
  title: 'followUp.review',
  hint: 'followUp.reviewHint',
  defaults: ({ outcome }) => ({ visitedOn: outcome.today }),
  parts: ({ view }, said) => [
    { kind: 'date', key: 'visitedOn', label: 'followUp.visitedOn', needed: true },
    graded('fit'),
    graded('skin'),
    ...(view.values.presentSore === true && said.skin === 'ok'
      ? [
          {
            kind: 'text',
            key: 'skinHealedWhy',
            label: 'followUp.skinHealed',
            most: 400,
            lines: 2,
            needed: false,
          } as const,
        ]
      : []),
    graded('chair'),
    graded('skills'),
    {
      kind: 'answers',
      key: 'inUse',
      label: 'followUp.inUse',
      needed: false,
      answers: (['daily', 'sometimes', 'no'] as const).map(value => ({ value, words: t(`followUp.${value}`) })),
    },
    scale('satisfactionChair'),
    scale('satisfactionService'),
    { kind: 'text', key: 'note', label: 'followUp.note', most: 1000, lines: 3, needed: false },
  ],
  toEvent: said => {
    const { visitedOn, fit, skin, chair, skills, inUse, satisfactionChair, satisfactionService } =
      said as Partial<Review>
    if (!visitedOn || !fit || !skin || !chair || !skills) throw new Error('half a review passed its form')
    return {
      ...{ visitedOn, fit, skin, chair, skills },
      // Asked only while it can be so: what was typed before the answer changed is not recorded.
      ...(skin === 'ok' ? textPart(said, 'skinHealedWhy') : {}),
      ...(inUse ? { inUse } : {}),
      ...(satisfactionChair ? { satisfactionChair } : {}),
      ...(satisfactionService ? { satisfactionService } : {}),
      ...textPart(said, 'note'),
    }
  },
}

export const notFoundForm: EventFormSpec<'notFound'> = {
  name: 'notFound',
  title: 'followUp.notFound',
  defaults: ({ outcome }) => ({ on: outcome.today }),
  parts: () => [
    { kind: 'date', key: 'on', label: 'followUp.on', needed: true },
    { kind: 'text', key: 'why', label: 'followUp.notFoundWhy', most: 400, lines: 2, needed: true },
  ],
  toEvent: said => ({ on: said.on as FieldValue<'notFound'>['on'], why: text(said, 'why') }),
}

export const skinLookForm: EventFormSpec<'skinLook'> = {
  name: 'skinLook',
  title: 'followUp.skinLook',
  defaults: ({ outcome }) => ({ on: outcome.today }),
  parts: () => [
    { kind: 'date', key: 'on', label: 'followUp.on', needed: true },
    {
      kind: 'answers',
      key: 'found',
      label: 'followUp.found',
      hint: 'followUp.skinSoreNow',
      needed: true,
      answers: (['clear', 'red', 'sore'] as const).map(value => ({ value, words: t(`followUp.${value}`) })),
    },
  ],
  toEvent: said => ({ on: said.on, found: said.found }) as FieldValue<'skinLook'>,
  risks: said => (said.found === 'sore' ? ['presentSore'] : []),
}

/** Lengths may be typed in cm; stature is kept in mm. */
const MM_PER_CM = 10

export const statureForm: EventFormSpec<'stature'> = {
  name: 'stature',
  title: 'followUp.stature',
  hint: 'followUp.statureHint',
  isShown: ({ view, outcome }) => {
    const born =
      view.values.dateOfBirth ?? (view.values.birthYear === undefined ? undefined : `${view.values.birthYear}-12-31`)
    return born === undefined || Number(outcome.today.slice(0, 4)) - Number(born.slice(0, 4)) <= 20
  },
  defaults: ({ outcome }) => ({ on: outcome.today, unit: 'cm' }),
  parts: (_, said) => [
    { kind: 'date', key: 'on', label: 'followUp.on', needed: true },
    {
      kind: 'number',
      key: 'typed',
      label: 'followUp.stature',
      hint: 'followUp.statureHow',
      needed: true,
      least: 300,
      most: 2400,
      unit: 'mm',
      inOwnUnit: typed => {
        const mm = said.unit === 'cm' ? Math.round(typed * MM_PER_CM) : typed
        return { value: mm, words: said.unit === 'cm' ? t('followUp.inMm', { value: mm }) : '' }
      },
    },
    {
      kind: 'answers',
      key: 'unit',
      label: 'form.unit',
      needed: true,
      answers: (['cm', 'mm'] as const).map(value => ({ value, words: t(`unit.${value}`) })),
    },
  ],
  toEvent: said => ({ on: said.on as FieldValue<'stature'>['on'], mm: Number(said.typed) }),
}
