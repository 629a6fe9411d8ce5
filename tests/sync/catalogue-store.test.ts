import 'fake-indexeddb/auto'
import { catalogueStoreSuite } from './catalogue-store-suite.ts'

catalogueStoreSuite('fake-indexeddb')
