import { sealedHarness } from '../../support/sealed-stores.ts'
import { storageContract } from '../../sync/storage-contract.ts'

storageContract('sealed rows in the browser', () => sealedHarness(false))
storageContract('sealed rows with the catalogue beside them in the browser', () => sealedHarness(true))
