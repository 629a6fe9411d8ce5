import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { storageContract } from './storage-contract.ts'

storageContract('memory', async () => {
  const memory = createMemoryStorage()
  return {
    storage: memory.open(),
    reopen: async () => memory.open(),
    failWrites: memory.failWrites,
    damageRow: async (document, position) => memory.damageRow(document, position),
    damageSummary: async document => memory.damageSummary(document),
  }
})
