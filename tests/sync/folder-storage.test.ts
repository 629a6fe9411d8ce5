import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { ByteReader } from '../../sync/bytes.ts'
import { diskFiles, FolderStorage } from '../../sync/desk/folder-storage.ts'
import { isKeepFolder, openKeepFolder } from '../../sync/desk/keep-folder.ts'
import { createCasebook, openCasebook } from '../../sync/open-casebook.ts'
import type { StorageFailure } from '../../sync/storage/storage.ts'
import { DATA_KEY_BYTES, DataKeys } from '../../sync/trust/data-keys.ts'
import { expectOk } from '../support/casebooks.ts'
import { optionsOn } from '../support/devices.ts'
import { storageContract } from './storage-contract.ts'

const PASSPHRASE = 'seven slow carts cross the wet bridge'

const folders: string[] = []
const newFolder = async (): Promise<string> => {
  const folder = await mkdtemp(join(tmpdir(), 'outspoke-keep-'))
  folders.push(folder)
  return folder
}
afterAll(() => Promise.all(folders.map(folder => rm(folder, { recursive: true }))))

storageContract('a folder of sealed files', async () => {
  const folder = await newFolder()
  const keys = await DataKeys.from(new Uint8Array(DATA_KEY_BYTES).fill(7))
  let refusal: StorageFailure | null = null
  const fails = async (): Promise<void> => {
    if (refusal) throw Object.assign(new Error('no space left on device'), { code: 'ENOSPC' })
  }
  const files = {
    replace: async (path: string, bytes: Uint8Array) => {
      await fails()
      await diskFiles.replace(path, bytes)
    },
    remove: async (path: string) => {
      await fails()
      await diskFiles.remove(path)
    },
  }
  const open = () => new FolderStorage(folder, keys, files)
  /** Turns over one bit of a document's file. */
  const damage = async (document: string, place: (bytes: Buffer) => number): Promise<void> => {
    const path = join(folder, `${await keys.nameOf('document', document)}.rows`)
    const bytes = await readFile(path)
    const at = place(bytes)
    bytes[at] = (bytes[at] ?? 0) ^ 1
    await writeFile(path, bytes)
  }
  return {
    storage: open(),
    reopen: async () => open(),
    failWrites: reason => {
      refusal = reason
    },
    damageRow: (document, position) => damage(document, bytes => endsIn(bytes).rows[position] ?? Number.NaN),
    damageSummary: document => damage(document, bytes => endsIn(bytes).summary),
  }
})

/** Where the last byte of the summary and of each row stands in a file. */
const endsIn = (bytes: Buffer): { readonly summary: number; readonly rows: readonly number[] } => {
  const reader = new ByteReader(bytes)
  const pieceEnd = (): number => {
    reader.piece()
    return bytes.length - reader.left - 1
  }
  reader.number()
  const summary = pieceEnd()
  const rows = Array.from({ length: reader.number() }, () => {
    reader.number()
    return pieceEnd()
  })
  return { summary, rows }
}

describe('a folder in which a device keeps everything', () => {
  it('opens again as the same device with the same casebook, and shows no word of it on the disk', async () => {
    const folder = await newFolder()
    const first = await openKeepFolder(folder, PASSPHRASE)
    const casebook = expectOk(await createCasebook({ ...optionsOn(first), founderName: 'Wenna Dalmor' }))
    const { caseId } = expectOk(await casebook.addCase({ kind: 'save', set: { personName: 'Invented Person' } }))
    await first.close()
    const again = await openKeepFolder(folder, PASSPHRASE)
    expect(again.deviceKey.device).toBe(first.deviceKey.device)
    const reopened = expectOk(await openCasebook(optionsOn(again)))
    expect(reopened.hashes()).toEqual(casebook.hashes())
    await again.close()

    const words = ['Wenna', 'Invented', caseId, casebook.casebookId, first.deviceKey.device]
    for (const name of await readdir(folder)) {
      const whole = `${name} ${(await readFile(join(folder, name))).toString('latin1')}`
      expect(words.filter(word => whole.includes(word))).toEqual([])
    }
  })

  it('does not open with another passphrase, and takes no short one', async () => {
    const folder = await newFolder()
    await expect(openKeepFolder(folder, 'short')).rejects.toThrow('at least 8 letters')
    await (await openKeepFolder(folder, PASSPHRASE)).close()
    await expect(openKeepFolder(folder, 'eight dry carts miss the bridge')).rejects.toThrow('does not open')
    await (await openKeepFolder(folder, PASSPHRASE)).close()
  })

  it('is worked on by one program at a time', async () => {
    const folder = await newFolder()
    const held = await openKeepFolder(folder, PASSPHRASE)
    await expect(openKeepFolder(folder, PASSPHRASE)).rejects.toThrow(
      `is in use by another program (process ${process.pid})`,
    )
    await held.close()
    // A number that no program has (proc(5): at most 2^22 on Linux): one that ended without tidying up.
    await writeFile(join(folder, 'in-use'), '4194305')
    await (await openKeepFolder(folder, PASSPHRASE)).close()
  })

  it('begins again after a start that was broken off, and leaves a folder of others alone', async () => {
    const folder = await newFolder()
    await writeFile(join(folder, `${'a'.repeat(22)}.value`), 'left over')
    expect(await isKeepFolder(folder)).toBe(false)
    await writeFile(join(folder, 'letters.txt'), 'of somebody else')
    await expect(openKeepFolder(folder, PASSPHRASE)).rejects.toThrow('Name an empty folder')
  })

  it('says in words that a file is damaged, and neither reads past it nor writes over it', async () => {
    const folder = await newFolder()
    const device = await openKeepFolder(folder, PASSPHRASE)
    await device.storage.append('team', [Uint8Array.of(1)], Uint8Array.of(2))
    const name = (await readdir(folder)).find(each => each.endsWith('.rows')) ?? ''
    await writeFile(join(folder, name), (await readFile(join(folder, name))).subarray(0, 20))
    const cut = await readFile(join(folder, name))
    await expect(device.storage.readRows('team')).rejects.toThrow('is damaged')
    expect(await device.storage.append('team', [Uint8Array.of(3)], Uint8Array.of(4))).toMatchObject({
      ok: false,
      failure: { type: 'storage-failed' },
    })
    expect(await readFile(join(folder, name))).toEqual(cut)
    await device.close()
  })
})
