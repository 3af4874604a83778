import type { ActName } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'
import { officeActs, type OfficeActName } from '@musterbook/vocabulary/office'
import { Role } from '@musterbook/vocabulary/people'
import { beforeAll, describe, expect, test } from 'vitest'
import { bodyOverHttp, openActs } from './act-bodies.ts'
import { dayId, envelope, house, type House } from './controls.ts'
import { exampleOf } from './example.ts'

describe('which role may do which act, every cell of the table through HTTP', () => {
  let here: House
  const cookies = new Map<Role, string>()
  beforeAll(async () => {
    here = house()
    for (const role of Role.options) cookies.set(role, await here.cookieOf(role))
  })

  for (const name of openActs) {
    test(`${name}: ${acts[name].roles.join(', ')} and nobody else`, async () => {
      const body = exampleOf(bodyOverHttp(name))
      for (const role of Role.options) {
        const before = here.told.length
        const refusals = await refusedSoFar(here)
        const answer = await here.ask('POST', `/api/days/${dayId}/${acts[name].noun}`, {
          cookie: cookies.get(role)!,
          body: { envelope: envelope(`${name}-${role}`), body },
        })

        if (mayDo(name, role)) {
          expect([role, answer.status]).toEqual([role, 201])
          expect(here.told.slice(before)).toMatchObject([{ act: name, by: { roles: [role] } }])
        } else {
          expect([role, answer.status]).toEqual([role, role === 'device' ? 401 : 403])
          expect(answer.headers.get('content-type')).toBe('application/problem+json')
          expect(here.told.length).toBe(before)
          expect(await refusedSoFar(here)).toBe(refusals + 1)
        }
      }
    })
  }

  for (const name of Object.keys(officeActs) as OfficeActName[]) {
    test(`office, ${name}: ${officeActs[name].roles.join(', ')} and nobody else`, async () => {
      const body = exampleOf(officeActs[name].body)
      for (const role of Role.options) {
        // Whoever's own sessions an act ends signs on again for the next one.
        const cookie = await here.cookieOf(role)
        const answer = await here.ask('POST', `/api/office/${officeActs[name].noun}`, { cookie, body: { body } })
        const may = (officeActs[name].roles as readonly Role[]).includes(role)
        expect([role, answer.status]).toEqual([role, may ? 201 : role === 'device' ? 401 : 403])
      }
    })
  }
})

test('a board that hangs on the wall calls staff and does nothing else', async () => {
  const here = house()
  const cookie = await here.cookieOf('device', 'board')
  for (const name of openActs) {
    const answer = await here.ask('POST', `/api/days/${dayId}/${acts[name].noun}`, { cookie, body: {} })
    expect([name, answer.status]).toEqual([name, name === 'callStaff' ? 422 : 403])
  }
})

test('a stranger without a device is asked to enrol, for every act', async () => {
  const here = house()
  for (const name of openActs) {
    const answer = await here.ask('POST', `/api/days/${dayId}/${acts[name].noun}`, { body: {} })
    expect([name, answer.status]).toEqual([name, 401])
  }
})

test('S5: on a locked staff device anyone stops a student or raises a hold, as this device with nobody signed on', async () => {
  const here = house()
  const cookie = await here.cookieOf('device')
  for (const name of ['stopStudent', 'raiseHold', 'acknowledgeHold'] as const) {
    const body = exampleOf(bodyOverHttp(name))
    const answer = await here.ask('POST', `/api/days/${dayId}/${acts[name].noun}`, { cookie, body: { envelope: envelope(name), body } })
    expect(answer.status).toBe(201)
    expect(here.told.at(-1)).toMatchObject({ act: name, by: { personId: null, deviceId: 'staff', roles: ['device'] } })
  }
})

const mayDo = (name: ActName, role: Role): boolean => (acts[name].roles as readonly Role[]).includes(role)

async function refusedSoFar({ parts }: House): Promise<number> {
  return (await parts.access.read()).filter(({ event }) => event.type === 'roleRefused').length
}
