import '../../sync/content-rules.ts'
import { beginPage } from './begin.ts'
import './spoke-two-phones.ts'

await beginPage()
document.body.append(document.createElement('spoke-two-phones'))
