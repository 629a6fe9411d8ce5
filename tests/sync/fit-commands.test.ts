import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { call } from '../support/command-line.ts'
import { EXAMPLE_FOLDING, WORKED_MAN } from '../support/example-chairs.ts'

let folder: string
const at = (name: string): string => join(folder, name)
const save = async (name: string, value: unknown): Promise<string> => {
  await writeFile(at(name), typeof value === 'string' ? value : JSON.stringify(value))
  return at(name)
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-'))
})
afterAll(() => rm(folder, { recursive: true }))

describe('fit PERSON.json', () => {
  it('prints ranked set-ups with predicted angles, settings and reasons', async () => {
    const { status, stdout } = await call(
      'fit',
      await save('person.json', WORKED_MAN),
      '--today',
      '2026-11-25',
      '--top',
      '3',
    )
    const answer = JSON.parse(stdout)
    expect(status).toBe(0)
    expect(answer.options.map((option: { rank: number }) => option.rank)).toEqual([1, 2, 3])
    expect(answer.options[0].predicted.rearTyrePivotDeg).toBeGreaterThan(9)
    // Plane statics: the angle at which a body tips back is the arc tangent of centre ahead over centre height.
    const { inputs, sum } = answer.options[0].settings.axle.reasons[0]
    expect(sum).toContain('rearwardDeg = atan(comAheadOfAxleMm / comHeightMm)')
    expect(Math.tan((inputs.rearwardDeg * Math.PI) / 180)).toBeCloseTo(inputs.comAheadOfAxleMm / inputs.comHeightMm, 2)
    expect(answer.considered.setUps).toBeGreaterThan(100_000)
  })

  it.each([
    ['a negative mass', { ...WORKED_MAN, massKg: -84 }, 'a mass must be above 0 kg'],
    ['a length of nothing', { ...WORKED_MAN, hipWidthMm: 0 }, 'a length must be above 0 mm'],
    ['an impossible length', { ...WORKED_MAN, thighDepthLeftMm: 20_000 }, 'longer than 10 m'],
    [
      'two losses on one side',
      {
        ...WORKED_MAN,
        limbLoss: [
          { side: 'left', level: 'transtibial' },
          { side: 'left', level: 'transfemoral' },
        ],
      },
      'one level a side',
    ],
    ['an unknown field', { ...WORKED_MAN, shoeSize: 43 }, 'shoeSize'],
    ['something that is not JSON', '{"massKg": 80,', 'is not JSON that can be taken'],
  ])('refuses %s in words, with exit status 2 and nothing on stdout', async (_what, person, words) => {
    const { status, stdout, stderr } = await call('fit', await save('bad.json', person))
    expect(status).toBe(2)
    expect(stdout).toBe('')
    expect(stderr).toContain(words)
  })

  it('doubts centimetres typed as millimetres and waits for a new measure', async () => {
    const { status, stdout } = await call('fit', await save('cm.json', { ...WORKED_MAN, hipWidthMm: 38 }))
    const answer = JSON.parse(stdout)
    expect(status).toBe(0)
    expect(answer.options).toEqual([])
    expect(answer.doubts).toMatchObject([{ field: 'hipWidthMm', wouldBe: 380 }])
    expect(answer.missing).toContainEqual({ field: 'hipWidthMm', effect: 'no-options' })
  })

  it.each([
    ['an empty catalogue', { catalogue: 1, title: 'x', models: [] }, 'empty catalogue'],
    [
      'a model without axle positions',
      { catalogue: 1, title: 'x', models: [{ ...EXAMPLE_FOLDING, axlePositions: [] }] },
      'at least one axle position',
    ],
    [
      'a key that stands twice',
      { catalogue: 1, title: 'x', models: [EXAMPLE_FOLDING, EXAMPLE_FOLDING] },
      'a key stands twice',
    ],
  ])('refuses %s', async (_what, catalogue, words) => {
    const person = await save('good.json', WORKED_MAN)
    const { status, stderr } = await call('fit', person, '--catalogue', await save('catalogue.json', catalogue))
    expect(status).toBe(2)
    expect(stderr).toContain(words)
  })

  it('refuses a missing file, a bad date and an unknown option', async () => {
    expect(await call('fit', at('nobody.json'))).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('there is no such file'),
    })
    const person = await save('good.json', WORKED_MAN)
    expect(await call('fit', person, '--today', '2026-02-30')).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('not a date'),
    })
    expect(await call('fit', person, '--colour')).toMatchObject({ status: 2 })
  })
})

describe('fit --people', () => {
  const HEADER =
    'sex,ageYears,massKg,statureMm,hipWidthMm,thighDepthMm,calfLengthMm,shoulderHeightMm,elbowHeightMm,axillaHeightMm'
  const GOOD = 'male,40,84,1755,380,495,445,600,245,490'

  it('fits each line, serves both sides from one column, and reports a bad line while the rest goes on', async () => {
    const people = await save(
      'people.csv',
      [HEADER, GOOD, GOOD.replace(',84,', ',-84,'), 'male,40', GOOD.replace('380', '365')].join('\r\n'),
    )
    const { status, stdout, stderr } = await call(
      'fit',
      '--people',
      people,
      '--out',
      at('fits.csv'),
      '--today',
      '2026-11-25',
    )
    expect(status).toBe(0)
    expect(JSON.parse(stdout)).toMatchObject({ people: 2, refused: 2, withOption: 2 })
    expect(stderr).toContain('line 3: massKg: a mass must be above 0 kg')
    expect(stderr).toContain('line 4: 2 cells under a header of 10 columns')
    const rows = (await readFile(at('fits.csv'), 'utf8')).trim().split('\r\n')
    expect(rows).toHaveLength(5)
    expect(rows[1]).toMatch(/^2,[a-z-]+,\d+,/)
    expect(rows[2]).toContain('a mass must be above 0 kg')
  })

  it('takes a fact for every line that does not give it', async () => {
    const people = await save('people.csv', [HEADER, GOOD].join('\n'))
    const axleOn = async (ground: string) => {
      await call(
        'fit',
        '--people',
        people,
        '--out',
        at('fits.csv'),
        '--assume',
        `ground=${ground}`,
        '--assume',
        'skill=expert',
      )
      return (await readFile(at('fits.csv'), 'utf8')).split('\r\n')[1]?.split(',').slice(1, 6).join(' ')
    }
    expect(await axleOn('smooth')).not.toBe(await axleOn('rough'))
  })

  it('leaves nothing behind when it cannot go on', async () => {
    const people = await save('people.csv', 'name,village\nx,y')
    expect(await call('fit', '--people', people, '--out', at('none.csv'))).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('no column'),
    })
    const good = await save('people.csv', [HEADER, GOOD].join('\n'))
    expect(await call('fit', '--people', good, '--out', join(folder, 'no-such-folder', 'x.csv'))).toMatchObject({
      status: 2,
    })
    expect((await readdir(folder)).filter(name => name.includes('none') || name.endsWith('.part'))).toEqual([])
  })
})

describe('outcome CASE.json', () => {
  const reading = (typed: number, unit: string) => ({ typed, unit })
  const entries = [
    {
      as: 'first',
      set: {
        hipWidthMm: reading(36.8, 'cm'),
        massKg: reading(78, 'kg'),
        thighDepthLeftMm: reading(470, 'mm'),
        thighDepthRightMm: reading(470, 'mm'),
        calfLengthLeftMm: reading(430, 'mm'),
        calfLengthRightMm: reading(430, 'mm'),
        shoulderHeightMm: reading(590, 'mm'),
        statureMm: reading(1730, 'mm'),
        presentSore: true,
      },
    },
    { set: { hipWidthMm: reading(394, 'mm') } },
  ]

  it('says what a difference would change and what holds', async () => {
    const { status, stdout } = await call('outcome', await save('case.json', { entries }), '--today', '2026-11-25')
    const outcome = JSON.parse(stdout)
    expect(status).toBe(0)
    expect(outcome.differences).toMatchObject([{ field: 'hipWidthMm', effect: 'changes' }])
    expect(outcome.holds.map((hold: { key: string }) => hold.key)).toEqual(
      expect.arrayContaining(['present-sore', 'difference']),
    )
  })

  it('lets a later entry override an earlier one by its label, and refuses a label that names nothing', async () => {
    const settled = [
      ...entries,
      { set: { hipWidthMm: reading(370, 'mm') }, over: ['first'], kind: 'settle', why: 'measured again' },
    ]
    const { stdout } = await call('outcome', await save('case.json', { entries: settled }), '--today', '2026-11-25')
    expect(JSON.parse(stdout).differences[0].options.map((option: { value: number }) => option.value)).toEqual([
      370, 394,
    ])
    const wrong = [{ set: { hipWidthMm: reading(370, 'mm') }, over: ['nobody'] }]
    expect(await call('outcome', await save('wrong.json', { entries: wrong }))).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('no earlier entry'),
    })
  })

  it('refuses an entry over 16 KiB, one nested too deep and a key __proto__', async () => {
    const refused = async (text: string) => {
      const { status, stderr } = await call('outcome', await save('bad.json', text))
      return [status, stderr] as const
    }
    expect(await refused(JSON.stringify({ entries: [{ set: { goals: 'x'.repeat(17 * 1024) } }] }))).toEqual([
      2,
      expect.stringContaining('over 16384 bytes'),
    ])
    expect(await refused(JSON.stringify({ entries: [{ set: { loads: [{ a: { b: { c: { d: 1 } } } }] } }] }))).toEqual([
      2,
      expect.stringContaining('nested deeper'),
    ])
    expect(await refused('{"entries":[{"set":{"__proto__":{"x":1}}}]}')).toEqual([
      2,
      expect.stringContaining('__proto__'),
    ])
  })
})
