import { type Crew, crewOf } from '../src/crew/crew.ts'
import { type Erasure, erasuresOf } from '../src/crew/erasures.ts'
import { sharedContextOf } from '../src/crew/shared-context.ts'
import type { CasebookId, CaseId, DeviceId } from '../src/ids.ts'
import { failure, success } from '../src/result.ts'
import type { CaseDocument } from './case-document.ts'
import type { DocumentKey } from './exchange/replica.ts'
import { KeyBook } from './key-book.ts'
import type { HashedContext } from './recompute.ts'
import { type Checked, NOT_SAVED } from './statement.ts'
import { hashParts } from './summaries.ts'

export const isCase = (key: DocumentKey): key is CaseId => key !== 'team' && key !== 'catalogue'

/** What the team and catalogue documents say now: who counts, which keys, what is erased, what surrounds the cases. */
export class TeamState {
  readonly keys: KeyBook
  crew: Crew = crewOf([])
  erasures: ReadonlyMap<CaseId, Erasure> = new Map()
  hashed: HashedContext

  private constructor(casebookId: CasebookId, hashed: HashedContext) {
    this.keys = new KeyBook(casebookId)
    this.hashed = hashed
  }

  static empty(casebookId: CasebookId): TeamState {
    const context = sharedContextOf(crewOf([]), [], [])
    return new TeamState(casebookId, { context, parts: hashParts(context) })
  }

  async readTeam(team: CaseDocument): Promise<void> {
    const entries = team.counted()
    for (const counted of entries) await this.keys.takeFrom(counted)
    this.crew = crewOf(entries)
    this.erasures = erasuresOf(this.crew, entries)
  }

  readContext(team: CaseDocument, catalogue: CaseDocument): void {
    const context = sharedContextOf(this.crew, team.counted(), catalogue.counted())
    this.hashed = { context, parts: hashParts(context) }
  }

  /** False for a case that one of the crew asked to erase: it is neither shown nor handed over nor taken in. */
  isShared(key: DocumentKey): boolean {
    return !isCase(key) || !this.erasures.has(key)
  }

  erasedCases(): readonly CaseId[] {
    return [...this.erasures].filter(([, { state }]) => state === 'erased').map(([caseId]) => caseId)
  }

  /** Strikes by this device that took effect. */
  strikesBy(device: DeviceId, team: CaseDocument): number {
    const mine = new Set(
      team
        .counted()
        .filter(({ entry }) => entry.by === device)
        .map(({ id }) => id),
    )
    return [...this.crew.members.values()].filter(({ struckBy }) => struckBy !== null && mine.has(struckBy)).length
  }

  /** A struck device may go on recording: it counts once one of the crew vouches. */
  mayWrite(device: DeviceId): Checked {
    const member = this.crew.members.get(device)
    if (!member)
      return failure({
        type: 'not-in-crew',
        message: `This device is not in the crew (yet): meet the one who invited you first. ${NOT_SAVED}`,
      })
    if (member.role === 'visitor')
      return failure({ type: 'visitor', message: `This device looks on as a visitor and cannot record. ${NOT_SAVED}` })
    return success(undefined)
  }
}
