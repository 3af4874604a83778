import type { Answer } from '@musterbook/vocabulary/command'
import { refusal } from '@musterbook/vocabulary/refusals'
import { digest } from '@musterbook/evidence/canonical'
import { expect, test } from 'vitest'
import { dayId, envelope, house, studentId, type House } from './controls.ts'

const crossing = { observationId: 'o-1', waveId: 'w-1', studentId, line: 'lap' }
const kept = (changes: object = {}) => ({
  kind: 'act',
  dayId,
  act: 'recordCrossing',
  by: { personId: 'station', signedOn: 'withPin' },
  envelope: { ...envelope('c-1'), occurredAt: Date.UTC(2027, 4, 11, 8) },
  body: crossing,
  ...changes,
})
const tell = async (here: House, cookie: string, body: unknown) => {
  const answer = await here.ask('POST', '/api/kept-items', { cookie, body })
  return { status: answer.status, ...((await answer.json()) as { recorded?: object; kept?: { number: number; because: string } }) }
}
/** Somebody was signed on there, and the server has been started anew since: only the device is proven. */
const afterRestart = async (here: House, role: 'station' | 'supervisor' = 'station') => (await here.cookieOf(role)).split(';')[0]!

test('what was kept is told as by whoever acted then, though nobody is signed on any more', async () => {
  const here = house()
  const cookie = await afterRestart(here)
  expect(await tell(here, cookie, kept())).toMatchObject({ status: 201, recorded: {} })
  expect(here.told).toMatchObject([{ act: 'recordCrossing', by: { personId: 'station', roles: ['station'], deviceId: 'staff-station' } }])
})

test('a stop on a locked device is told as this device, person not signed on', async () => {
  const here = house()
  const stop = kept({
    act: 'stopStudent',
    by: { personId: null, signedOn: null },
    body: { studentId, zoneId: null, reason: 'unwell' },
  })
  await tell(here, await here.cookieOf('device'), stop)
  expect(here.told).toMatchObject([{ act: 'stopStudent', by: { personId: null, roles: ['device'] } }])
})

test.each([
  ['an act that this server does not know', kept({ act: 'measureHope' }), 'notUnderstood'],
  ['a body of another shape', kept({ body: { ...crossing, lane: 4 } }), 'notUnderstood'],
  ['something that is no item at all', ['?'], 'notUnderstood'],
  ['words that are no JSON', '{"half an it', 'notUnderstood'],
  ['somebody who never signed on at that device', kept({ by: { personId: 'safety', signedOn: 'outOfContact' } }), 'notSignedOnThere'],
  ['an act outside the role of who did it', kept({ act: 'observeHazard', by: { personId: null, signedOn: null } }), 'outsideRole'],
  ['a permission that nobody had given', kept({ act: 'callUp', body: { studentId, stationId: 'agility' } }), 'notDecidedThere'],
])('kept whole, under a number, and told twice under the same one: %s', async (_, item, because) => {
  const here = house()
  const cookie = await afterRestart(here)
  expect(await tell(here, cookie, item)).toMatchObject({ status: 201, kept: { number: 1, because } })
  expect(await tell(here, cookie, item)).toMatchObject({ kept: { number: 1 } })
  expect(here.told).toEqual([])

  const supervisor = await here.cookieOf('supervisor')
  const shown = (await (await here.ask('GET', '/api/kept-items', { cookie: supervisor })).json()) as object[]
  expect(shown).toMatchObject([{ number: 1, because, deviceId: 'staff-station', settledBy: null }])
  const whole = (await (await here.ask('GET', '/api/kept-items/1', { cookie: supervisor })).json()) as { text: string }
  expect(whole.text).toBe(typeof item === 'string' ? item : JSON.stringify(item))
  expect(JSON.stringify(await here.parts.access.read())).not.toContain('half an it')
})

test('an unknown day and a command id that was used are kept whole; a refusal is an answer', async () => {
  let answer: Answer = { noSuchDay: true }
  const here = house({ testDay: { tell: async () => answer } })
  const cookie = await afterRestart(here)
  expect((await tell(here, cookie, kept())).kept).toEqual({ number: 1, because: 'unknownDay' })
  answer = { commandIdReused: true }
  expect((await tell(here, cookie, kept({ body: { ...crossing, observationId: 'o-2' } }))).kept).toEqual({
    number: 2,
    because: 'commandIdReused',
  })
  answer = { refused: refusal('calledElsewhere', { station: 'Bench' }), version: 3, toldTwice: false }
  const asked = kept({ act: 'callUp', envelope: { ...kept().envelope, decidedOnDevice: true }, body: { studentId, stationId: 'agility' } })
  expect(await tell(here, cookie, asked)).toMatchObject({ refused: { rule: 'calledElsewhere' } })
})

test('the device lets go of its own once a supervisor has settled it', async () => {
  const here = house()
  const cookie = await afterRestart(here)
  await tell(here, cookie, ['?'])
  const own = async () => (await here.ask('GET', '/api/kept-items/own', { cookie })).json()
  expect(await own()).toEqual({ settled: [] })
  expect((await here.ask('POST', '/api/kept-items/1/settlement', { cookie: await here.cookieOf('station'), body: {} })).status).toBe(403)
  await here.ask('POST', '/api/kept-items/1/settlement', { cookie: await here.cookieOf('supervisor'), body: {} })
  expect(await own()).toEqual({ settled: [1] })
})

test('a sign-on out of contact is written down once, and only of who had been there within the hours', async () => {
  const here = house()
  const cookie = await afterRestart(here)
  const signOn = { kind: 'signOn', dayId, personId: 'station', since: Date.UTC(2027, 4, 11, 9) }
  await tell(here, cookie, signOn)
  await tell(here, cookie, signOn)
  const events = (await here.parts.access.read()).map(({ event }) => event)
  expect(events.filter(({ type }) => type === 'signedOnOutOfContact')).toMatchObject([{ personId: 'station', since: signOn.since }])
  expect((await tell(here, cookie, { ...signOn, personId: 'safety' })).kept?.because).toBe('notSignedOnThere')
})

test('what a device will not send itself is brought in by hand: told as that device’s own, by whoever acted, and written down as carried', async () => {
  const here = house()
  await afterRestart(here)
  const items = [JSON.stringify(kept()), JSON.stringify(kept({ act: 'measureHope' }))]
  const carry = async (cookie: string, body: object) => here.ask('POST', '/api/carried-items', { cookie, body })
  const fromDeviceId = 'staff-station'
  const whole = { fromDeviceId, sha256: digest({ fromDeviceId, items }), items }
  expect((await carry(await here.cookieOf('station'), whole)).status).toBe(403)
  const supervisor = await here.cookieOf('supervisor')
  expect((await carry(supervisor, { ...whole, sha256: digest([]) })).status).toBe(422)
  expect((await carry(supervisor, { ...whole, fromDeviceId: 'stranger' })).status).toBe(404)
  expect((await carry(supervisor, { ...whole, fromDeviceId: 'staff' })).status).toBe(422)
  expect(here.told).toEqual([])

  expect(await (await carry(supervisor, whole)).json()).toEqual({ items: ['recorded', 'kept'] })
  expect(here.told).toMatchObject([{ by: { personId: 'station', deviceId: 'staff-station' }, envelope: { commandId: 'c-1' } }])
  const carriedBy = (await here.parts.access.read()).map(({ event }) => event).filter(({ type }) => type === 'itemsCarried')
  expect(carriedBy).toMatchObject([{ personId: 'supervisor', fromDeviceId: 'staff-station', items: 2 }])
})
