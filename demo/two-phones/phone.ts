import '../../sync/content-rules.ts'
import { beginPage } from './begin.ts'
import { PHONE_READY } from './demo-phone.ts'
import './spoke-demo-phone.ts'

await beginPage()
const phone = document.createElement('spoke-demo-phone')
document.body.append(phone)
await phone.open()
// The frame that this page stands in is of the same origin: whoever made it hears that there is a phone inside.
window.frameElement?.dispatchEvent(new CustomEvent(PHONE_READY, { detail: phone }))
