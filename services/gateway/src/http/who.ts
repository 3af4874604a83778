import { getCookie } from 'hono/cookie'
import { createMiddleware } from 'hono/factory'
import type { Device, Person } from '@musterbook/vocabulary/office'
import type { Role } from '@musterbook/vocabulary/people'
import type { GatewayParts } from '../parts.ts'
import type { HouseEnv } from './route.ts'

export const deviceCookie = 'musterbook-device'
export const personCookie = 'musterbook-person'

/** Who asks, proven by cookies of ours and by nothing that a body says. */
export interface Who {
  /** null: not enrolled. */
  device: Device | null
  /** null: nobody is signed on, or the screen has locked. */
  person: Person | null
  roles: readonly Role[]
  /** Aborts when this person's session ends, or the device is locked or taken out, so that a live view never outlives who may see it. */
  ended: AbortSignal | null
}

/** Finds out who asks, before anything else is asked. */
export const knowWho = ({ office, sessions, contacts }: Pick<GatewayParts, 'office' | 'sessions' | 'contacts'>) =>
  createMiddleware<HouseEnv>(async (c, next) => {
    const token = getCookie(c, deviceCookie)
    const found = token ? await office.deviceOf(token) : null
    const device = found?.state === 'enrolled' ? found : null
    if (device) contacts.heard(device.deviceId)

    const personToken = getCookie(c, personCookie)
    const session =
      device && !device.locked && personToken ? sessions.find(personToken, device.deviceId, byHand(c.req.method, c.req.path)) : undefined
    const signedOn = session ? await office.person(session.personId) : null
    const person = signedOn && !signedOn.left ? signedOn : null
    c.set('who', {
      device,
      person,
      roles: rolesOf(device, person),
      ended: person && session ? session.ended : device && sessions.listening(device.deviceId),
    })
    await next()
  })

/** A screen that only listens does not keep itself unlocked. */
const byHand = (method: string, path: string): boolean =>
  method !== 'GET' || !(path.includes('/live/') || path === '/api/session' || path === '/api/clock')

/** A locked staff device may stop a student and raise a hold; a kiosk serves students by itself; a board only shows. */
export function rolesOf(device: Device | null, person: Person | null): readonly Role[] {
  if (!device) return []
  // Somebody else knows this PIN as well: until it is changed, its person does no more than a locked device may.
  if (person?.pin === 'first') return device.purpose === 'board' ? [] : ['device']
  if (person) return person.roles
  return { staff: ['device' as const], kiosk: ['kiosk' as const], board: [] }[device.purpose]
}
