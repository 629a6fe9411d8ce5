import { catalogueStoreSuite } from '../../sync/catalogue-store-suite.ts'

catalogueStoreSuite('the browser')
