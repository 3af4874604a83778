import { SetUp } from '@musterbook/vocabulary/office'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { desked, type Desked, granted, ruleOf, settled, told } from './controls.ts'

let desk: Desked
beforeEach(async () => void (desk = await desked()))
afterEach(() => desk.end())

const body = (code: string | null, more: object = {}) =>
  SetUp.parse({
    code,
    site: { name: 'Hill (invented)', timeZone: 'Europe/Oslo', ...more },
    coordinator: { name: 'Ines Varga', pin: '270511' },
  })

test('the code sets a site up once', async () => {
  expect(await desk.office.setUpNeeded()).toBe(true)
  const code = await desk.office.newSetUpCode()
  expect(code).toMatch(/^[2-9A-HJKMNP-Z]{4}(-[2-9A-HJKMNP-Z]{4}){2}$/)
  const done = granted(await desk.office.setUp(body(code), told(null, [])))
  expect(await desk.office.setUpNeeded()).toBe(false)
  expect(await desk.office.newSetUpCode()).toBeNull()
  expect(await desk.office.site()).toEqual({ siteId: done.siteId, name: 'Hill (invented)', timeZone: 'Europe/Oslo' })
  expect(await desk.office.person(done.personId)).toMatchObject({ name: 'Ines Varga', roles: ['coordinator'], pin: 'own' })
  expect((await desk.office.deviceOf(done.deviceToken))?.deviceId).toBe(done.deviceId)
  expect(ruleOf(await desk.office.setUp(body(code), told(null, [])))).toBe('alreadySetUp')
})

test('typed in lower case and without hyphens it is the same code', async () => {
  const code = await desk.office.newSetUpCode()
  granted(await desk.office.setUp(body((code ?? '').toLowerCase().replaceAll('-', ' ')), told(null, [])))
})

test('a fresh code voids the one before, and a wrong one is refused and slowed', async () => {
  const first = await desk.office.newSetUpCode()
  const second = await desk.office.newSetUpCode()
  expect(ruleOf(await desk.office.setUp(body(first), told(null, [])))).toBe('wrongSetUpCode')
  for (let tries = 0; tries < 4; tries++) await desk.office.setUp(body('GUESS'), told(null, []))
  expect(ruleOf(await desk.office.setUp(body(second), told(null, [])))).toBe('tooManyTries')
  desk.clock.now += 6_000
  granted(await desk.office.setUp(body(second), told(null, [])))
})

test('a time zone that does not exist is refused, and the code is still good', async () => {
  const code = await desk.office.newSetUpCode()
  expect(ruleOf(await desk.office.setUp(body(code, { timeZone: 'Europe/Skarnvale' }), told(null, [])))).toBe('noSuchTimeZone')
  granted(await desk.office.setUp(body(code), told(null, [])))
})

test('nothing is done before the set-up', async () => {
  const answer = await desk.office.addPerson({ name: 'Bo', roles: ['station'], qualifications: [], pin: null }, told(null, []))
  expect(ruleOf(answer)).toBe('notSetUp')
  expect(await desk.office.people()).toEqual([])
})

test('two that set up at once make one site', async () => {
  const code = await desk.office.newSetUpCode()
  const answers = await Promise.all([desk.office.setUp(body(code), told(null, [])), desk.office.setUp(body(code), told(null, []))])
  expect(answers.map(ruleOf).sort()).toEqual(['alreadySetUp', undefined])
  expect(await desk.office.people()).toHaveLength(1)
})

test('an act told twice is done once and answers the same', async () => {
  const { asInes } = await settled(desk)
  const person = { name: 'Bo Ekström', roles: ['station' as const], qualifications: [], pin: '246803' }
  const once = asInes()
  const first = granted(await desk.office.addPerson(person, once))
  expect(await desk.office.addPerson(person, once)).toEqual(first)
  expect(await desk.office.people()).toHaveLength(2)
  expect(ruleOf(await desk.office.addPerson({ ...person, name: 'Another' }, once))).toBe('commandIdReused')
  expect(await desk.office.people()).toHaveLength(2)
})
