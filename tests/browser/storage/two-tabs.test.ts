import { twoTabsSuite } from '../../sync/two-tabs-suite.ts'

twoTabsSuite('the browser')
