/**
 * Everything that keeps and works out cases, in one piece of code that comes after the first screen: the door needs
 * nothing of it until somebody opens something.
 */
export { createCasebook, openCasebook } from '../../sync/open-casebook.ts'
export { outcomeRules } from '../../sync/outcome-rules.ts'
export { openDevice, openPractice } from '../../sync/storage/open-device.ts'
export { secondPlace } from '../../sync/storage/second-place.ts'
export { joinInvited } from '../../sync/transport/invitation.ts'
export { Meetings } from '../../sync/transport/meetings.ts'
