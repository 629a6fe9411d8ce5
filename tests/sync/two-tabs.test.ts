import 'fake-indexeddb/auto'
import { twoTabsSuite } from './two-tabs-suite.ts'

twoTabsSuite('fake-indexeddb')
