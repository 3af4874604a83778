import { setCookie } from 'hono/cookie'
import { z } from 'zod'
import { DeviceId, PersonId, SiteId } from '@musterbook/vocabulary/ids'
import { SetUp } from '@musterbook/vocabulary/office'
import { cookieOptions, deviceCookieDays } from '../http/cookies.ts'
import { officeNo } from '../http/office-status.ts'
import { route, type Route } from '../http/route.ts'
import { deviceCookie, personCookie } from '../http/who.ts'
import { byOf, ownEnvelope } from '../told.ts'
import type { Tools } from '../tools.ts'

/** The first act of all: the site and its coordinator, with the code printed where the server was started. */
export const setUpRoutes = (tools: Tools): Route[] => [
  route('post', '/api/set-up', {
    says: 'Sets the site and its coordinator up, with the one-time code that the server printed. Enrols this device and signs the coordinator on.',
    may: 'anyone',
    body: SetUp,
    answer: z.object({ siteId: SiteId, personId: PersonId, deviceId: DeviceId }),
    status: 201,
    async go(c, { body }) {
      const said = await tools.office.setUp(body, { by: byOf(c), envelope: ownEnvelope(tools) })
      if ('refused' in said) return officeNo(c, said.refused)

      const { siteId, personId, deviceId, deviceToken } = said
      await tools.access.tell({ type: 'signedOn', personId, deviceId })
      setCookie(c, deviceCookie, deviceToken, cookieOptions(tools, deviceCookieDays))
      setCookie(c, personCookie, tools.sessions.open(deviceId, personId), cookieOptions(tools))
      return c.json({ siteId, personId, deviceId }, 201)
    },
  }),
]
