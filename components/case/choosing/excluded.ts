import { html, nothing, type TemplateResult } from 'lit'
import type { Catalogue } from '../../../src/chair/chair-model.ts'
import type { Recommendation } from '../../../src/fitting/recommend.ts'
import type { Lever } from '../../../src/fitting/would-help.ts'
import '../../fit/spoke-the-sum.ts'
import { atStart, sayNumber } from '../../text/say-value.ts'
import { t } from '../../text/text.ts'
import { chairTitle, sayShortBy } from '../set-up-words.ts'
import { setUpCount } from './set-up-count.ts'

type Row = Recommendation['excluded'][number]

const rowOf = (row: Row): TemplateResult => {
  const short = sayShortBy(row.rule, row.shortBy)
  return html`<li>
    ${t(`rule.${row.rule}`)}<span class="quiet">
      · ${t('choosing.excludedCount', { count: row.setUps })}${
        short === undefined ? nothing : html` · ${t('choosing.nearest', { shortBy: short })}`
      }</span
    >
    <spoke-the-sum .reason=${row.reason} name=${t(`rule.${row.rule}`)}></spoke-the-sum>
  </li>`
}

/** What was excluded, chair by chair, the rule and how near the nearest came. Chairs of which nothing serves come first. */
export const excludedTable = (rows: readonly Row[], catalogue: Catalogue): TemplateResult => {
  const chairs = catalogue.models
    .map(model => {
      const own = rows.filter(row => row.chair === model.key)
      const count = own.reduce((sum, row) => sum + row.setUps, 0)
      return { title: model.title, own, serves: count < setUpCount(model) }
    })
    .filter(({ own }) => own.length > 0)
    .sort((a, b) => Number(a.serves) - Number(b.serves))
  return html`<div class="lines">
    ${chairs.map(
      ({ title, own, serves }) => html`<div class="line">
        <div class="head">
          <strong>${title}</strong>
          <span class="quiet">${t(serves ? 'choosing.someServe' : 'choosing.noneServes')}</span>
        </div>
        <ul class="stack">${own.map(rowOf)}</ul>
      </div>`,
    )}
  </div>`
}

/** What keeps every chair out, the rule that stands against most chairs first. */
export const rulesInTheWay = (rows: readonly Row[]): readonly string[] => {
  const chairs = new Map<Row['rule'], Set<string>>()
  for (const { rule, chair } of rows) chairs.set(rule, (chairs.get(rule) ?? new Set()).add(chair))
  return [...chairs]
    .sort(([, a], [, b]) => b.size - a.size)
    .map(([rule, { size }]) => atStart(t('choosing.ruleOfChairs', { rule: t(`rule.${rule}`), count: size })))
}

const leverText = ({ lever, chair, gainDeg, shortByDeg }: Lever, catalogue: Catalogue): string => {
  const values = { lever: t(`lever.${lever}`), chair: chairTitle(catalogue, chair) }
  if (gainDeg === null) return t('choosing.gainUnknown', values)
  const gain = sayNumber(gainDeg, 'deg')
  return gainDeg >= shortByDeg
    ? t('choosing.gainEnough', { ...values, gain })
    : t('choosing.gain', { ...values, gain, shortBy: sayNumber(shortByDeg, 'deg') })
}

/** What would help where tipping excludes everything, in the order in which to try it. */
export const wouldHelpList = (levers: readonly Lever[], catalogue: Catalogue): TemplateResult | typeof nothing =>
  levers.length === 0
    ? nothing
    : html`<div class="notice warn">
        <h3>${t('choosing.wouldHelp')}</h3>
        <ol>${levers.map(lever => html`<li>${atStart(leverText(lever, catalogue))}</li>`)}</ol>
      </div>`
