import { open, readdir, readFile, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { CaseId, PhotoHash } from '../../src/ids.ts'
import { failure, success } from '../../src/result.ts'
import { ByteReader, ByteWriter, toBase64Url, UnreadableBytes } from '../bytes.ts'
import type { DocumentKey } from '../exchange/replica.ts'
import { oneAtATime } from '../one-at-a-time.ts'
import { platformRandom } from '../secret-keeper.ts'
import {
  type CasebookStorage,
  STORAGE_FULL,
  StorageUnreadable,
  type Stored,
  type StoredRow,
  type StoredRows,
} from '../storage/storage.ts'
import type { DataKeys } from '../trust/data-keys.ts'

const VERSION = 1
const ROWS = '.rows'
const VALUE = '.value'
const PHOTO = '.photo'
const PART = '.part'
const BESIDE_BYTES = 8
/** What a value that does not open gives: bytes that nobody reads as anything. */
const UNREADABLE_VALUE = new Uint8Array()
const NO_SUMMARY = new Uint8Array()

/** What is done to the files of a folder; passed in so that a full disk can be tried. */
export interface FolderFiles {
  /** Writes a file whole or not at all, and returns when the disk has it. */
  replace(path: string, bytes: Uint8Array): Promise<void>
  /** One that is not there is gone already. */
  remove(path: string): Promise<void>
}

/** The new name is on the disk only when its folder is (POSIX fsync). Windows opens no folder, and needs no such word. */
const syncFolder = async (folder: string): Promise<void> => {
  if (process.platform === 'win32') return
  const opened = await open(folder)
  try {
    await opened.sync()
  } finally {
    await opened.close()
  }
}

export const diskFiles: FolderFiles = {
  async replace(path, bytes) {
    const beside = `${path}.${toBase64Url(platformRandom(BESIDE_BYTES))}${PART}`
    try {
      const file = await open(beside, 'wx', 0o600)
      try {
        await file.writeFile(bytes)
        await file.sync()
      } finally {
        await file.close()
      }
      await rename(beside, path)
      await syncFolder(dirname(path))
    } catch (error) {
      await rm(beside, { force: true })
      throw error
    }
  },
  remove: path => rm(path, { force: true }),
}

/** The rows of one document as they lie in its file. */
interface Sheet {
  readonly summary: Uint8Array
  readonly rows: readonly { readonly key: number; readonly sealed: Uint8Array }[]
}

const writeSheet = ({ summary, rows }: Sheet): Uint8Array => {
  const writer = new ByteWriter().number(VERSION).piece(summary).number(rows.length)
  for (const { key, sealed } of rows) writer.number(key).piece(sealed)
  return writer.done()
}

const readSheet = (bytes: Uint8Array): Sheet => {
  const reader = new ByteReader(bytes)
  if (reader.number() !== VERSION) throw new UnreadableBytes('another version')
  const summary = reader.piece()
  const rows = Array.from({ length: reader.count(2) }, () => ({ key: reader.number(), sealed: reader.piece() }))
  return { summary, rows }
}

const hasCode = (error: unknown, ...codes: readonly string[]): boolean =>
  error instanceof Error && 'code' in error && codes.includes(String(error.code))

const readOr = async <Other>(path: string, other: Other): Promise<Uint8Array | Other> => {
  try {
    return await readFile(path)
  } catch (error) {
    if (hasCode(error, 'ENOENT')) return other
    throw new StorageUnreadable(`A file of the folder cannot be read, so nothing was changed: ${error}`)
  }
}

const plain = ({ buffer, byteOffset, byteLength }: Uint8Array): Uint8Array =>
  new Uint8Array(buffer, byteOffset, byteLength)

/**
 * A casebook in a folder of sealed files, for a program that is always there: one file for each document, value and photo,
 * under opaque names. Each file is replaced as a whole, once the disk has the new one, so that an end at any moment leaves
 * the old one or the new one. Nothing is held in memory, and one program at a time works on a folder.
 */
export class FolderStorage implements CasebookStorage {
  readonly #folder: string
  readonly #keys: DataKeys
  readonly #files: FolderFiles
  readonly #inTurn = oneAtATime()

  constructor(folder: string, keys: DataKeys, files: FolderFiles = diskFiles) {
    this.#folder = folder
    this.#keys = keys
    this.#files = files
  }

  append(document: DocumentKey, rows: readonly Uint8Array[], summary: Uint8Array): Promise<Stored> {
    return this.#change(document, rows, [], summary)
  }

  compact(
    document: DocumentKey,
    merged: Uint8Array,
    keysRead: readonly number[],
    summary: Uint8Array,
  ): Promise<Stored> {
    return this.#change(document, [merged], keysRead, summary)
  }

  async readRows(document: DocumentKey): Promise<StoredRows> {
    const c = await this.#nameOf(document)
    return this.#open(c, await this.#sheet(c))
  }

  async readSummaries(take: (summary: Uint8Array) => boolean): Promise<readonly StoredRows[]> {
    const found: StoredRows[] = []
    // One after the other: a system lets a program have so many files open, and there may be more cases.
    for (const c of await this.#documents()) {
      const sheet = await this.#sheet(c)
      const summary = await this.#keys.open('summary', c, sheet.summary)
      if (!summary || !take(summary)) found.push(await this.#open(c, sheet))
    }
    return found
  }

  writeSummaries(summaries: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Stored> {
    return this.#stored(async () => {
      for (const [document, summary] of summaries) {
        const c = await this.#nameOf(document)
        const { rows } = await this.#sheet(c)
        await this.#write(c, { rows, summary: await this.#keys.seal('summary', c, summary) })
      }
    })
  }

  /** The photos first: without its rows nobody would find them any more. */
  remove(document: DocumentKey): Promise<Stored> {
    return this.#stored(async () => {
      const c = await this.#nameOf(document)
      for (const name of await this.#namesEnding(PHOTO))
        if (name.startsWith(`${c}.`)) await this.#files.remove(this.#path(name, PHOTO))
      await this.#files.remove(this.#path(c, ROWS))
    })
  }

  async readValue(name: string): Promise<Uint8Array | undefined> {
    const c = await this.#keys.nameOf('value', name)
    const sealed = await readOr(this.#path(c, VALUE), undefined)
    return sealed && ((await this.#keys.open('value', c, plain(sealed))) ?? UNREADABLE_VALUE)
  }

  writeValue(name: string, bytes: Uint8Array): Promise<Stored> {
    const copy = bytes.slice()
    return this.#stored(async () => {
      const c = await this.#keys.nameOf('value', name)
      await this.#files.replace(this.#path(c, VALUE), await this.#keys.seal('value', c, copy))
    })
  }

  keepPhoto(caseId: CaseId, hash: PhotoHash, bytes: Uint8Array): Promise<Stored> {
    const copy = bytes.slice()
    return this.#stored(async () => {
      const [path, name] = await this.#photo(caseId, hash)
      await this.#files.replace(path, await this.#keys.seal('photo', name, copy))
    })
  }

  async readPhoto(caseId: CaseId, hash: PhotoHash): Promise<Uint8Array | undefined> {
    const [path, name] = await this.#photo(caseId, hash)
    const sealed = await readOr(path, undefined)
    return sealed && this.#keys.open('photo', name, plain(sealed))
  }

  removePhotos(caseId: CaseId, hashes: readonly PhotoHash[]): Promise<Stored> {
    return this.#stored(async () => {
      for (const hash of hashes) await this.#files.remove((await this.#photo(caseId, hash))[0])
    })
  }

  /** Adds rows under keys that were never used, takes some away, replaces the summary. */
  #change(
    document: DocumentKey,
    added: readonly Uint8Array[],
    removed: readonly number[],
    summary: Uint8Array,
  ): Promise<Stored> {
    const copies = added.map(row => row.slice())
    const copy = summary.slice()
    return this.#stored(async () => {
      const c = await this.#nameOf(document)
      const { rows } = await this.#sheet(c)
      // The last one has the highest key, and stays: whoever takes rows away puts one in their place.
      const next = (rows.at(-1)?.key ?? 0) + 1
      const sealed = await Promise.all(
        copies.map(async (row, index) => ({ key: next + index, sealed: await this.#keys.seal('row', c, row) })),
      )
      const kept = rows.filter(({ key }) => !removed.includes(key))
      await this.#write(c, { rows: [...kept, ...sealed], summary: await this.#keys.seal('summary', c, copy) })
    })
  }

  /** In turn, and with what went wrong as a result. A folder that cannot be read refuses as well: nothing was changed. */
  #stored(work: () => Promise<void>): Promise<Stored> {
    return this.#inTurn(async () => {
      try {
        await work()
        return success(undefined)
      } catch (error) {
        if (hasCode(error, 'ENOSPC', 'EDQUOT')) return failure(STORAGE_FULL)
        if (!(error instanceof StorageUnreadable) && !(error instanceof Error && 'code' in error)) throw error
        return failure({
          type: 'storage-failed',
          message: `Not saved: ${error.message}. Everything saved before is safe.`,
        })
      }
    })
  }

  async #write(c: string, sheet: Sheet): Promise<void> {
    await this.#files.replace(this.#path(c, ROWS), writeSheet(sheet))
  }

  async #sheet(c: string): Promise<Sheet> {
    const bytes = await readOr(this.#path(c, ROWS), undefined)
    if (!bytes) return { summary: NO_SUMMARY, rows: [] }
    try {
      return readSheet(plain(bytes))
    } catch (error) {
      if (!(error instanceof UnreadableBytes)) throw error
      throw new StorageUnreadable(
        'A file of the folder is damaged, or a later version wrote it. Nothing was changed. Strike this device off and keep the casebook in a new folder: the crew holds the same.',
      )
    }
  }

  async #open(c: string, { rows }: Sheet): Promise<StoredRows> {
    const opened = await Promise.all(
      rows.map(async ({ key, sealed }): Promise<StoredRow | undefined> => {
        const bytes = await this.#keys.open('row', c, sealed)
        return bytes && { key, bytes }
      }),
    )
    const readable = opened.filter(row => row !== undefined)
    return { rows: readable, unreadable: opened.length - readable.length }
  }

  #nameOf(document: DocumentKey): Promise<string> {
    return this.#keys.nameOf('document', document)
  }

  async #photo(caseId: CaseId, hash: PhotoHash): Promise<readonly [path: string, name: string]> {
    const name = await this.#keys.nameOf('photo', `${caseId} ${hash}`)
    return [this.#path(`${await this.#nameOf(caseId)}.${name}`, PHOTO), name]
  }

  #documents(): Promise<readonly string[]> {
    return this.#namesEnding(ROWS)
  }

  async #namesEnding(ending: string): Promise<readonly string[]> {
    const names = await readdir(this.#folder).catch(error => {
      throw new StorageUnreadable(`The folder cannot be read, so nothing was changed: ${error}`)
    })
    return names.filter(name => name.endsWith(ending)).map(name => name.slice(0, -ending.length))
  }

  #path(name: string, ending: string): string {
    return join(this.#folder, `${name}${ending}`)
  }
}
