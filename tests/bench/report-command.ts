import { execFile } from 'node:child_process'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { makeBundle } from '../../sync/transport/bundle.ts'
import { currentSecret } from '../../sync/trust/casebook-secret.ts'
import { foundCasebook } from '../support/casebooks.ts'
import { loadWords, printTable, ratio, round } from './measure.ts'
import { realisticCase } from './realistic-cases.ts'

const MAIN = fileURLToPath(new URL('../../sync/desk/main.ts', import.meta.url))
/** A module that says, as the program ends, how much memory it ever held and what the processor worked, on stderr. */
const TELL_USE = `data:text/javascript,process.on('exit',()=>{const u=process.resourceUsage();process.stderr.write('used '+u.maxRSS+' '+(u.userCPUTime+u.systemCPUTime))})`
/** Casebooks, and cases in each: twice the casebooks, then twice the cases. */
const SIZES = [
  [4, 100],
  [8, 100],
  [4, 200],
] as const

interface Use {
  readonly mostMb: number
  readonly seconds: number
}

const callMeasured = (args: readonly string[]): Promise<Use> =>
  new Promise((done, fail) => {
    execFile(process.execPath, ['--import', 'tsx', '--import', TELL_USE, MAIN, ...args], (error, _, stderr) => {
      const [, kilobytes, microseconds] = /used (\d+) (\d+)$/.exec(stderr) ?? []
      if (error || kilobytes === undefined) fail(error ?? new Error(stderr))
      else done({ mostMb: Number(kilobytes) / 1024, seconds: Number(microseconds) / 1e6 })
    })
  })

const writeCasebook = async (folder: string, book: number, cases: number): Promise<void> => {
  const { casebook, key } = await foundCasebook(`Founder ${book}`)
  for (let index = 0; index < cases; index += 1) {
    const { caseId, document } = await realisticCase(book * 1000 + index, [key])
    const [refused] = (await casebook.admitUpdate(caseId, document.snapshot())).refused
    if (refused) throw new Error(refused.message)
  }
  const secret = currentSecret(casebook.secrets())
  if (!secret) throw new Error('no secret')
  await writeFile(join(folder, `${book}.bundle`), await makeBundle(casebook, secret))
  const keys = { casebook: casebook.casebookId, secrets: { [secret.epoch]: secret.secret } }
  await writeFile(join(folder, `${book}.json`), JSON.stringify(keys))
}

/** `outspoke report` from sealed bundles to tables: every signature checked, every case worked out. */
export const run = async (): Promise<void> => {
  const folder = await mkdtemp(join(tmpdir(), 'outspoke-report-'))
  try {
    const measured: Use[] = []
    const rows = []
    for (const [casebooks, cases] of SIZES) {
      const books = Array.from({ length: casebooks }, (_, book) => book)
      for (const book of books) await writeCasebook(folder, book, cases)
      const files = books.map(book => join(folder, `${book}.bundle`))
      const keys = books.flatMap(book => ['--keys', join(folder, `${book}.json`)])
      const out = join(folder, `out-${casebooks}-${cases}`)
      const use = await callMeasured(['report', ...files, ...keys, '--out', out, '--today', '2026-11-25'])
      measured.push(use)
      rows.push({
        casebooks,
        'cases in each': cases,
        'processor s': round(use.seconds, 1),
        'ms a case': round((use.seconds * 1000) / (casebooks * cases), 1),
        'most memory MB': round(use.mostMb),
      })
    }
    printTable(`outspoke report, cases of 40 signed entries (${loadWords()})`, rows)
    const [base, moreBooks, moreCases] = measured
    if (!base || !moreBooks || !moreCases) throw new Error('a size was not measured')
    console.log(
      `Twice as many casebooks: processor ${ratio(moreBooks.seconds, base.seconds)}, memory ${ratio(moreBooks.mostMb, base.mostMb)}`,
    )
    console.log(
      `Twice as many cases in each: processor ${ratio(moreCases.seconds, base.seconds)}, memory ${ratio(moreCases.mostMb, base.mostMb)}`,
    )
  } finally {
    await rm(folder, { recursive: true })
  }
}
