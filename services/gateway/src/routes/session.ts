import { deleteCookie, getCookie, setCookie } from 'hono/cookie'
import { z } from 'zod'
import { BadgeNumber, DeviceId, PersonId, StationId } from '@musterbook/vocabulary/ids'
import { DevicePurpose } from '@musterbook/vocabulary/office-events'
import { Role } from '@musterbook/vocabulary/people'
import { cookieOptions } from '../http/cookies.ts'
import { officeNo } from '../http/office-status.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { personCookie } from '../http/who.ts'
import { provePin } from '../prove-pin.ts'
import { siteDate } from '../site-date.ts'
import type { Tools } from '../tools.ts'

const Count = z.coerce.number().int().nonnegative().max(1_000_000)

export const SessionAnswer = z.object({
  device: z
    .object({
      deviceId: DeviceId,
      name: z.string(),
      purpose: DevicePurpose,
      stationId: StationId.nullable(),
      /** Lost, by whose word and since when: it shows nothing more and tells what it keeps. */
      locked: z.object({ by: z.string(), at: z.int() }).nullable(),
    })
    .nullable(),
  person: z
    .object({
      personId: PersonId,
      name: z.string(),
      roles: z.array(Role),
      /** Stations for which the person is listed as qualified today. */
      qualifiedFor: z.array(StationId),
      /** `first`: set by a coordinator and to be changed by its person. */
      pin: z.enum(['none', 'first', 'own']),
      /** So that it chooses them at this device out of contact, too. */
      badge: BadgeNumber.nullable(),
    })
    .nullable(),
  lockAfterMs: z.int(),
  /** Of this run of the server: after another, nobody is signed on anywhere. */
  run: z.string(),
  /** Has nobody set this server up yet? */
  setUpNeeded: z.boolean(),
})
export type SessionAnswer = z.infer<typeof SessionAnswer>

export const sessionRoutes = (tools: Tools): Route[] => {
  const { office, sessions, access, lockAfterMs } = tools

  const run = tools.newId()

  const answer = async (c: HouseContext): Promise<SessionAnswer> => {
    const { device, person } = c.var.who
    return {
      device: device && {
        deviceId: device.deviceId,
        name: device.name,
        purpose: device.purpose,
        stationId: device.stationId,
        locked: device.locked && {
          by: (await office.person(device.locked.personId))?.name ?? device.locked.personId,
          at: device.locked.at,
        },
      },
      person: person && {
        personId: person.personId,
        name: person.name,
        roles: [...person.roles],
        qualifiedFor: await office.qualifiedFor(person.personId, await siteDate(tools)),
        pin: person.pin,
        badge: person.badge,
      },
      lockAfterMs,
      run,
      setUpNeeded: await office.setUpNeeded(),
    }
  }

  return [
    route('get', '/api/session', {
      says: 'Which device this is and who is signed on at it. A device says with it what it alone keeps.',
      may: 'anyone',
      query: z.object({ acts: Count.optional(), photos: Count.optional() }),
      answer: SessionAnswer,
      async go(c, { query: { acts, photos } }) {
        const { device } = c.var.who
        if (device && acts !== undefined && photos !== undefined) tools.unsent.set(device.deviceId, { acts, photos, at: tools.clock() })
        return c.json(await answer(c))
      },
    }),
    route('get', '/api/session/people', {
      says: 'Names to sign on with at this device.',
      may: 'enrolled',
      answer: z.array(z.object({ personId: PersonId, name: z.string(), roles: z.array(Role) })),
      go: async (c) => {
        if (c.var.who.device!.purpose === 'board') return c.json([])
        const people = (await office.people()).filter(({ left, pin }) => !left && pin !== 'none')
        return c.json(people.map(({ personId, name, roles }) => ({ personId, name, roles })))
      },
    }),
    route('get', '/api/session/badges/:read', {
      says: 'Whose badge was read: the name to sign on with. It is no secret and proves nobody; the PIN does.',
      may: 'enrolled',
      answer: z.object({ personId: PersonId, name: z.string(), roles: z.array(Role) }),
      async go(c) {
        const said = await office.whoseBadge(c.req.param('read') ?? '')
        if ('refused' in said) return officeNo(c, said.refused)
        const { personId, name, roles } = said.person
        return c.json({ personId, name, roles: [...roles] })
      },
    }),
    route('post', '/api/session', {
      says: 'Signs a person on at this device; whoever was signed on before is not any more.',
      may: 'enrolled',
      body: z.strictObject({ personId: PersonId, pin: z.string().min(1).max(40) }),
      answer: SessionAnswer,
      status: 201,
      async go(c, { body }) {
        const proven = await provePin(c, tools, body)
        if ('refused' in proven) return officeNo(c, proven.refused)

        const { personId } = proven.person
        const { deviceId } = c.var.who.device!
        await access.tell({ type: 'signedOn', personId, deviceId })
        setCookie(c, personCookie, sessions.open(deviceId, personId), cookieOptions(tools))
        c.set('who', { ...c.var.who, person: proven.person })
        return c.json(await answer(c), 201)
      },
    }),
    route('delete', '/api/session', {
      says: 'Locks this screen.',
      may: 'enrolled',
      status: 204,
      go(c) {
        const token = getCookie(c, personCookie)
        if (token) sessions.close(token)
        deleteCookie(c, personCookie, { path: '/', secure: tools.secure })
        return c.body(null, 204)
      },
    }),
  ]
}
