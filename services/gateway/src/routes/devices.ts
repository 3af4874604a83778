import { setCookie } from 'hono/cookie'
import { z } from 'zod'
import { DeviceId, StationId } from '@musterbook/vocabulary/ids'
import { InviteDevice, officeActs } from '@musterbook/vocabulary/office'
import { DevicePurpose, UnsentTold } from '@musterbook/vocabulary/office-events'
import { cookieOptions, deviceCookieDays } from '../http/cookies.ts'
import { officeNo, officeSaid } from '../http/office-status.ts'
import { route, type Route } from '../http/route.ts'
import { deviceCookie } from '../http/who.ts'
import { byOf, ownEnvelope } from '../told.ts'
import type { Tools } from '../tools.ts'

const Enrolled = z.object({ deviceId: DeviceId, name: z.string(), purpose: DevicePurpose, stationId: StationId.nullable() })

export const deviceRoutes = (tools: Tools): Route[] => [
  route('get', '/api/devices/contacts', {
    says: 'When each enrolled device was last heard, by the ledger’s clock, and what it then said that it alone keeps; null: not since the server started.',
    may: ['greeter', 'station', 'safety', 'supervisor', 'coordinator', 'auditor'],
    answer: z.array(Enrolled.extend({ lastHeardAt: z.number().nullable(), unsent: UnsentTold.nullable() })),
    async go(c) {
      const ages = tools.contacts.ages()
      const enrolled = (await tools.office.devices()).filter(({ state }) => state === 'enrolled')
      return c.json(
        enrolled.map(({ deviceId, name, purpose, stationId }) => ({
          deviceId,
          name,
          purpose,
          stationId,
          lastHeardAt: ages.get(deviceId) ?? null,
          unsent: tools.unsent.get(deviceId) ?? null,
        })),
      )
    },
  }),
  route('post', '/api/devices/codes', {
    says: 'A code with which one device is enrolled.',
    may: officeActs.inviteDevice.roles,
    body: InviteDevice,
    answer: z.object({ code: z.string(), deviceId: DeviceId, expiresAt: z.int() }),
    status: 201,
    go: async (c, { body }) => officeSaid(c, await tools.office.inviteDevice(body, { by: byOf(c), envelope: ownEnvelope(tools) })),
  }),
  route('post', '/api/devices/enrolment', {
    says: 'Enrols this device with a code.',
    may: 'anyone',
    body: z.strictObject({ code: z.string().trim().min(1).max(60) }),
    answer: Enrolled,
    status: 201,
    async go(c, { body: { code } }) {
      const said = await tools.office.enrolDevice(code, { by: byOf(c), envelope: ownEnvelope(tools) })
      if ('refused' in said) return officeNo(c, said.refused)

      setCookie(c, deviceCookie, said.token, cookieOptions(tools, deviceCookieDays))
      const { deviceId, name, purpose, stationId } = said.device
      return c.json({ deviceId, name, purpose, stationId }, 201)
    },
  }),
]
