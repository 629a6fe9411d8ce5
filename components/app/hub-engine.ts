/** What meets through a hub, in one piece of code that comes when a hub is joined. */
export { HubVisit } from '../../sync/transport/hub-visit.ts'
export { meetNearby } from '../../sync/transport/nearby.ts'
