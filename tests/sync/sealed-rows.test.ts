import 'fake-indexeddb/auto'
import { sealedHarness } from '../support/sealed-stores.ts'
import { storageContract } from './storage-contract.ts'

storageContract('sealed rows in fake-indexeddb', () => sealedHarness(false))
storageContract('sealed rows with the catalogue beside them in fake-indexeddb', () => sealedHarness(true))
