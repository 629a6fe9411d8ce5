import { describe, expect, it } from 'vitest'
import { type ReadyFacts, type ReadyLine, readyLines } from '../../../components/app/field-readiness.ts'

const READY: ReadyFacts = {
  copy: 'in-place',
  readiness: {
    offlineCopy: true,
    persisted: true,
    usedBytes: 10_000_000,
    quotaBytes: 10_000_000_000,
    daysSinceBundle: 1,
    daysSinceMeeting: null,
  },
  camera: 'granted',
  practice: false,
  chairCount: 7,
  keptRefused: false,
}
const lineOf = (key: ReadyLine['key'], part: Partial<ReadyFacts>): ReadyLine | undefined =>
  readyLines({ ...READY, ...part }).find(line => line.key === key)
const known = (part: Partial<ReadyFacts['readiness']>): Partial<ReadyFacts> => ({
  readiness: { ...READY.readiness, ...part },
})

describe('ready for the field', () => {
  it('is said when everything is in order', () => {
    expect(readyLines(READY).filter(line => !line.isInOrder)).toEqual([])
  })

  it.each([
    ['copy', { copy: 'missing' }],
    ['copy', { copy: 'arriving' }],
    ['copy', { copy: 'impossible' }],
    ['kept', known({ persisted: false })],
    ['kept', known({ persisted: null })],
    ['room', known({ usedBytes: 9_950_000_000 })],
    ['camera', { camera: 'prompt' }],
    ['camera', { camera: 'denied' }],
    ['camera', { camera: 'none' }],
    ['handed', known({ daysSinceBundle: null, daysSinceMeeting: null })],
    ['handed', known({ daysSinceBundle: 3, daysSinceMeeting: 20 })],
    ['chairs', { chairCount: 0 }],
  ] as const)('is not said when %s is not in order, and says what to do', (key, part) => {
    const line = lineOf(key, part)
    expect(line?.isInOrder).toBe(false)
    expect(line?.whatToDo).toMatch(/\.$/)
  })

  it('counts from whichever was handed on last', () => {
    expect(lineOf('handed', known({ daysSinceBundle: 30, daysSinceMeeting: 0 }))?.words).toContain('today')
    expect(lineOf('handed', known({ daysSinceBundle: 2, daysSinceMeeting: 9 }))).toMatchObject({ isInOrder: true })
    expect(lineOf('handed', known({ daysSinceBundle: 3, daysSinceMeeting: null }))?.words).toContain('3 days')
  })

  it('asks the browser only for what it can still give', () => {
    expect(lineOf('camera', { camera: 'prompt' })?.ask).toBe('camera')
    expect(lineOf('camera', { camera: 'denied' })?.ask).toBeNull()
    expect(lineOf('kept', known({ persisted: false }))?.ask).toBe('persist')
  })

  it('says nothing of room where the browser does not tell', () => {
    expect(lineOf('room', known({ quotaBytes: null }))).toBeUndefined()
  })

  it('asks nobody to hand on practice', () => {
    expect(lineOf('handed', { ...known({ daysSinceBundle: null }), practice: true })?.isInOrder).toBe(true)
  })
})
