import { beforeAll, expect, test } from 'vitest'
import { Role } from '@musterbook/vocabulary/people'
import { dayId, house, studentId, type House } from './controls.ts'

/** Everything of disputes that is only read. */
const readings = [
  '/api/cases',
  '/api/cases/case-1',
  `/api/days/${dayId}/hearing-copies/${studentId}`,
  `/api/days/${dayId}/bundles/${studentId}`,
  `/api/days/${dayId}/results.csv`,
  `/api/days/${dayId}/results-dictionary`,
  `/api/days/${dayId}/results-dictionary.csv`,
  `/api/days/${dayId}/cohorts/lark-7`,
  `/sheets/days/${dayId}/cohorts/lark-7`,
  '/api/records/students?find=pell',
  `/api/records/students/${studentId}`,
  '/api/records/policy',
  '/api/records/due',
  `/sheets/records/${studentId}`,
  `/sheets/days/${dayId}/hearing-copies/${studentId}`,
  '/sheets/cases/case-1/letter',
]
const readers: readonly Role[] = ['supervisor', 'coordinator', 'auditor']

let here: House
beforeAll(() => {
  here = house()
})

for (const path of readings)
  test(`${path}: supervisor, coordinator and auditor read it, and nobody else`, async () => {
    expect((await here.ask('GET', path)).status).toBe(401)
    for (const role of Role.options) {
      const { status } = await here.ask('GET', path, { cookie: await here.cookieOf(role) })
      if (readers.includes(role)) expect([role, status]).not.toEqual([role, 403])
      else expect([role, status]).toEqual([role, role === 'device' ? 401 : 403])
      expect([role, status]).not.toEqual([role, 500])
    }
  })
