import type { ReactiveControllerHost } from 'lit'
import { FollowController } from '../controllers/follow-controller.ts'
import type { Session } from './session.ts'

/** Renders its element again when something else is open. */
export class SessionController extends FollowController<Session> {
  constructor(host: ReactiveControllerHost, changed?: () => void) {
    super(host, (session, told) => session.subscribe(told), changed)
  }
}
