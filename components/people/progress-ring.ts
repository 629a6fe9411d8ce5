import { html, svg, type TemplateResult } from 'lit'
import { STAGES, type Stage } from '../../src/case/stage.ts'
import { t } from '../text/text.ts'

const RADIUS = 17
const ROUND = 2 * Math.PI * RADIUS
/** A person with a chair has the whole ring. */
const WHOLE = STAGES.indexOf('follow-up')

/** The same in words, for whoever does not see the ring. */
export const stageWords = (stage: Stage): string => t(`row.stage ${stage}`)

/** The ring that fills as a case goes on. */
export const progressRing = (stage: Stage | null): TemplateResult => {
  const done = stage === null ? 0 : Math.min(STAGES.indexOf(stage), WHOLE) / WHOLE
  return html`<svg class="ring" viewBox="0 0 40 40" aria-hidden="true">
      <circle class="rest" cx="20" cy="20" r=${RADIUS}></circle>
      ${
        done > 0
          ? svg`<circle class="done" cx="20" cy="20" r=${RADIUS} stroke-dasharray=${`${(done * ROUND).toFixed(1)} ${ROUND.toFixed(1)}`} transform="rotate(-90 20 20)"></circle>`
          : ''
      }</svg>`
}
