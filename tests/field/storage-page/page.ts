import '../../../sync/content-rules.ts'
import type { CaseId } from '../../../src/ids.ts'
import type { Result } from '../../../src/result.ts'
import { createCasebook, openCasebook } from '../../../sync/open-casebook.ts'
import { type OpenDevice, openDevice, openPractice } from '../../../sync/storage/open-device.ts'
import { secondPlace } from '../../../sync/storage/second-place.ts'
import { expectOk, type SmallCasebook } from '../../support/casebooks.ts'
import { optionsOn } from '../../support/devices.ts'

/**
 * One case in the store of this browser, and a form that says "Saved" when the store has it, as the app does.
 * `?practice`: the store without a passphrase. `?burst=name`: saves one place after another until the page goes.
 */
const PASSPHRASE = 'mill weir ford bridge reed otter'
const asked = new URLSearchParams(location.search)

const partOf = <Element extends HTMLElement>(name: string): Element => {
  const found = document.querySelector<Element>(name)
  if (!found) throw new Error(`no ${name} in the page`)
  return found
}
const [heading, notices, input, button, said, list] = [
  partOf('h1'),
  partOf('#notices'),
  partOf<HTMLInputElement>('input'),
  partOf<HTMLButtonElement>('button'),
  partOf('output'),
  partOf('ol'),
]

const openStore = async (): Promise<OpenDevice> => {
  if (asked.has('practice')) return expectOk(await openPractice({ indexedDB, name: 'field-practice' }))
  const locked = expectOk(await openDevice({ indexedDB, second: secondPlace, name: 'field' }))
  return expectOk(await (locked.isNew ? locked.create(PASSPHRASE) : locked.unlock(PASSPHRASE)))
}

const openCase = async (device: OpenDevice): Promise<{ readonly casebook: SmallCasebook; readonly caseId: CaseId }> => {
  const opened = await openCasebook(optionsOn(device))
  const casebook = opened.ok
    ? opened.value
    : expectOk(await createCasebook({ ...optionsOn(device), founderName: 'Ana' }))
  const [first] = casebook.summaries()
  if (first) return { casebook, caseId: first.caseId }
  const added = await casebook.addCase({ kind: 'save', set: { goals: 'to the mill and back' } })
  return { casebook, caseId: expectOk(added).caseId }
}

const device = await openStore()
const { casebook, caseId } = await openCase(device)
device.tabs.subscribe(news => {
  if (news.news === 'document-changed') void casebook.reread(news.document)
})

const show = async (): Promise<void> => {
  const entries = await casebook.record(caseId)
  const places = entries.flatMap(({ counted }) =>
    'place' in counted.entry.set ? [String(counted.entry.set.place)] : [],
  )
  list.replaceChildren(
    ...places.map(place => {
      const item = document.createElement('li')
      item.textContent = place
      return item
    }),
  )
  notices.textContent = device
    .notices()
    .map(({ type }) => type)
    .join(' ')
  heading.textContent = casebook.problems().length === 0 ? 'Open' : JSON.stringify(casebook.problems())
}

/** A test that wants to act in the same moment gives this function to the page. */
const tellSaved = (place: string): void => {
  const listener: unknown = Reflect.get(globalThis, 'savedShown')
  if (typeof listener === 'function') listener(place)
}

const save = async (place: string): Promise<Result<unknown, { readonly type: string; readonly message: string }>> => {
  const saved = await casebook.save(caseId, { kind: 'save', set: { place } })
  said.textContent = saved.ok ? `Saved: ${place}` : saved.failure.message
  if (saved.ok) tellSaved(place)
  return saved
}

button.addEventListener('click', () => void save(input.value))
await show()
button.disabled = false
casebook.subscribe(() => void show())

const burst = asked.get('burst')
if (burst) for (let number = 1; (await save(`${burst} ${number}`)).ok; number += 1);
