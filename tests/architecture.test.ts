import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import { describe, expect, it } from 'vitest'

const ROOT = resolve(import.meta.dirname, '..')

const filesUnder = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter(entry => entry.isFile() && entry.name.endsWith('.ts'))
    .map(entry => relative(ROOT, join(entry.parentPath, entry.name)))

interface Import {
  readonly from: string
  /** A path from the top of the project, or a package's name. */
  readonly to: string
  readonly typeOnly: boolean
}

const IMPORT = /^\s*(?:import|export)\s+(type\s+)?(?:[^'"]*?\sfrom\s+)?'([^']+)'|import\('([^']+)'\)/gm

const importsOf = (file: string): Import[] =>
  [...readFileSync(join(ROOT, file), 'utf8').matchAll(IMPORT)].map(([, type, named, dynamic]) => {
    const target = named ?? dynamic ?? ''
    const to = target.startsWith('.') ? relative(ROOT, resolve(ROOT, dirname(file), target)) : target
    return { from: file, to, typeOnly: type !== undefined }
  })

const SRC = filesUnder('src')
const SYNC = filesUnder('sync')
const COMPONENTS = filesUnder('components')
const SHIPPED = [...SRC, ...SYNC, ...COMPONENTS]
const IMPORTS = SHIPPED.flatMap(importsOf)

/** Rooms of `src` from the ground up: a room may import itself and rooms named before it. Files at the top are the ground. */
const SRC_ROOMS = [
  'statistics',
  'body',
  'chair',
  'case',
  'fitting',
  'crew',
  'doubles',
  'preparation',
  'follow-up',
  'outcome',
  'trip',
  'report',
  'table',
] as const
const roomOf = (file: string): string => {
  const [, room, inner] = file.split('/')
  return inner === undefined || room === undefined ? 'ground' : room
}
const height = (room: string): number =>
  room === 'ground' ? -1 : SRC_ROOMS.indexOf(room as (typeof SRC_ROOMS)[number])
const isPackage = (to: string): boolean => !to.endsWith('.ts') && !to.endsWith('.json')
/** `lit/directives/map.js` is of `lit`, `@lit/context` of itself. */
const packageOf = (to: string): string =>
  to
    .split('/')
    .slice(0, to.startsWith('@') ? 2 : 1)
    .join('/')

describe('the arrows', () => {
  it('sees the files and their imports', () => {
    expect(SRC.length).toBeGreaterThan(30)
    expect(SYNC.length).toBeGreaterThan(15)
    expect(IMPORTS.length).toBeGreaterThan(200)
  })

  it('src imports zod and itself only', () => {
    const wrong = IMPORTS.filter(({ from, to }) => from.startsWith('src/') && to !== 'zod' && !to.startsWith('src/'))
    expect(wrong).toEqual([])
  })

  it('every room of src stands in the list, and imports only rooms below it', () => {
    expect([...new Set(SRC.map(roomOf))].filter(room => room !== 'ground' && height(room) < 0)).toEqual([])
    const wrong = IMPORTS.filter(
      ({ from, to }) => from.startsWith('src/') && to.startsWith('src/') && height(roomOf(to)) > height(roomOf(from)),
    )
    expect(wrong).toEqual([])
  })

  it('nothing in src or sync imports components, and nothing shipped imports tests', () => {
    const wrong = IMPORTS.filter(
      ({ from, to }) => to.startsWith('tests/') || (to.startsWith('components/') && !from.startsWith('components/')),
    )
    expect(wrong).toEqual([])
  })

  it('the practice trip is called for by the two places where a program begins', () => {
    const wrong = IMPORTS.filter(
      ({ from, to }) => to.startsWith('demo/') && from !== 'sync/desk/main.ts' && !from.startsWith('components/app/'),
    )
    expect(wrong).toEqual([])
  })

  it('elements know the shapes of sync only: storage, keys and carriers are picked where the app begins', () => {
    const wrong = IMPORTS.filter(
      ({ from, to, typeOnly }) =>
        from.startsWith('components/') && !from.startsWith('components/app/') && to.startsWith('sync/') && !typeOnly,
    )
    expect(wrong).toEqual([])
  })

  it('Yjs is imported by the case document and nowhere else', () => {
    const importers = [...new Set(IMPORTS.filter(({ to }) => to === 'yjs').map(({ from }) => from))]
    expect(importers).toEqual(['sync/case-document.ts'])
  })

  it('Node is met only at the desk', () => {
    const wrong = IMPORTS.filter(
      ({ from, to }) =>
        (to.startsWith('node:') || to === 'ws' || to === '@roamhq/wrtc') && !from.startsWith('sync/desk/'),
    )
    expect(wrong).toEqual([])
  })

  it.each([
    ['src', ['zod']],
    ['sync', ['zod', 'yjs', 'papaparse', 'y-indexeddb', 'y-webrtc', 'qr', 'ws', '@roamhq/wrtc']],
    ['components', ['lit', '@lit/context', 'qr']],
  ])('the packages of %s are the ones chosen', (house, chosen) => {
    const wrong = IMPORTS.filter(
      ({ from, to }) =>
        from.startsWith(`${house}/`) && isPackage(to) && !to.startsWith('node:') && !chosen.includes(packageOf(to)),
    )
    expect(wrong).toEqual([])
  })

  it('y-indexeddb keeps the catalogue and nothing else', () => {
    const importers = IMPORTS.filter(({ to }) => to === 'y-indexeddb').map(({ from }) => from)
    expect(importers.filter(from => from !== 'sync/storage/catalogue-store.ts')).toEqual([])
  })

  it('y-webrtc makes connections, behind the two rooms that take them over', () => {
    const importers = IMPORTS.filter(({ to }) => to === 'y-webrtc').map(({ from }) => from)
    expect(importers.sort()).toEqual(['sync/transport/hub-room.ts', 'sync/transport/lobby-room.ts'])
  })

  it('has no cycle', () => {
    const next = new Map<string, string[]>()
    for (const { from, to, typeOnly } of IMPORTS) if (!typeOnly) next.set(from, [...(next.get(from) ?? []), to])
    const done = new Set<string>()
    const cycleFrom = (file: string, path: readonly string[]): readonly string[] | undefined => {
      if (path.includes(file)) return [...path.slice(path.indexOf(file)), file]
      if (done.has(file)) return undefined
      for (const to of next.get(file) ?? []) {
        const cycle = cycleFrom(to, [...path, file])
        if (cycle) return cycle
      }
      done.add(file)
      return undefined
    }
    expect(SHIPPED.map(file => cycleFrom(file, [])).filter(cycle => cycle !== undefined)).toEqual([])
  })
})

describe('purity of src', () => {
  it.each([
    ['a clock', /\bDate\.now\b|new Date\(\)|\bperformance\b/],
    ['randomness', /\bMath\.random\b|getRandomValues|randomUUID/],
    ['the DOM or the network', /\b(?:document|navigator|localStorage|indexedDB)\.|\bfetch\(/],
    ['Node', /\bprocess\.|\bBuffer\b|\brequire\(/],
    ['text order that depends on the language of the device', /localeCompare|toLocale/],
  ])('meets no trace of %s', (_what, pattern) => {
    const withoutComments = (text: string): string => text.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '')
    const wrong = SRC.filter(file => pattern.test(withoutComments(readFileSync(join(ROOT, file), 'utf8'))))
    expect(wrong).toEqual([])
  })
})

describe('habits', () => {
  it('zod is imported whole by name, so that its languages stay out of what ships', () => {
    const wrong = SHIPPED.filter(file =>
      /import\s*\{[^}]*\}\s*from\s*'zod'/.test(readFileSync(join(ROOT, file), 'utf8')),
    )
    expect(wrong).toEqual([])
  })

  it('no file is longer than 400 lines, data tables aside', () => {
    const tables = ['src/case/fields.ts', 'src/body/who-lms.ts']
    const long = SHIPPED.filter(
      file => !tables.includes(file) && readFileSync(join(ROOT, file), 'utf8').split('\n').length > 400,
    )
    expect(long).toEqual([])
  })

  it('no element is longer than 250 lines', () => {
    const long = COMPONENTS.filter(
      file => /\/spoke-[^/]*$/.test(file) && readFileSync(join(ROOT, file), 'utf8').split('\n').length > 251,
    )
    expect(long).toEqual([])
  })

  it('each element is defined once, in the file of its name: a second of one name breaks the page that comes later', () => {
    const defined = COMPONENTS.flatMap(file =>
      [...readFileSync(join(ROOT, file), 'utf8').matchAll(/customElements\.define\('([^']+)'/g)].map(([, name]) => ({
        name,
        file,
      })),
    )
    expect(defined.length).toBeGreaterThan(50)
    expect(defined.filter(({ name, file }) => !file.endsWith(`/${name}.ts`))).toEqual([])
    const names = defined.map(({ name }) => name)
    expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([])
  })

  it('no element carries style attributes: the content rules of the built app forbid them', () => {
    const wrong = COMPONENTS.filter(file => /\sstyle=["']/.test(readFileSync(join(ROOT, file), 'utf8')))
    expect(wrong).toEqual([])
  })

  it('no element shows the words of a refusal or a fault: they are English, and of sync', () => {
    const shown =
      /\b(?:failure|error|problem|notice|refusal|cause)\??\.message\b|\{[^{}]*\bmessage\b[^{}]*\} = \w*(?:failure|error)/i
    const wrong = COMPONENTS.filter(
      file => file !== 'components/text/say-failure.ts' && shown.test(readFileSync(join(ROOT, file), 'utf8')),
    )
    expect(wrong).toEqual([])
  })

  it('no room is called after nothing in particular', () => {
    const wrong = SHIPPED.filter(file => /(?:utils?|helpers?|common|misc|manager)(?:\.ts|\/)/.test(file))
    expect(wrong).toEqual([])
  })
})
