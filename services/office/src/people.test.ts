import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { PersonId, StationId } from '@musterbook/vocabulary/ids'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { desked, type Desked, granted, ruleOf, settled, told } from './controls.ts'
import { isTooSimple } from './pins.ts'

let desk: Desked
let ines: PersonId
let bo: PersonId
let asInes: () => ReturnType<typeof told>
beforeEach(async () => {
  desk = await desked()
  ;({ ines, asInes } = await settled(desk))
  bo = granted(
    await desk.office.addPerson({ name: 'Bo Ekström', roles: ['station'], qualifications: [], pin: '246803' }, asInes()),
  ).personId
})
afterEach(() => desk.end())

const prove = (pin: string, device = 'device-1', person: string = bo) => desk.office.provePerson(person, pin, device as never)

test('what somebody else changed meanwhile refuses the later save, and says what is different', async () => {
  const seen = { roles: ['station' as const] }
  granted(await desk.office.changeRoles({ personId: bo, roles: ['station', 'safety'], seen }, asInes()))
  const later = await desk.office.changeRoles({ personId: bo, roles: ['station', 'greeter'], seen }, asInes())
  expect(later).toMatchObject({ refused: { rule: 'changedMeanwhile', params: { what: 'roles is now station and safety' } } })
  expect((await desk.office.person(bo))?.roles).toEqual(['station', 'safety'])

  const zone = { zoneId: 'yard' as never, name: 'Yard', outdoor: true, track: null, shelter: null, coolingPoint: null }
  granted(await desk.office.placeZone({ ...zone, seen: null }, asInes()))
  expect(await desk.office.placeZone({ ...zone, outdoor: false, seen: null }, asInes())).toMatchObject({
    refused: { params: { what: 'somebody else has added it' } },
  })
  granted(await desk.office.placeZone({ ...zone, shelter: 'Timing hut', seen: zone }, asInes()))
  expect(await desk.office.placeZone({ ...zone, name: 'Back yard', seen: zone }, asInes())).toMatchObject({
    refused: { params: { what: 'shelter is now Timing hut' } },
  })
  expect((await desk.office.venue()).zones).toContainEqual({ ...zone, shelter: 'Timing hut' })
})

describe('PINs', () => {
  test('one that a coordinator set is to be changed for another', async () => {
    const asBo = () => told(bo, ['station'])
    expect(ruleOf(await desk.office.changeOwnPin({ oldPin: '246803', newPin: '246803' }, asBo()))).toBe('pinSame')
    granted(await desk.office.changeOwnPin({ oldPin: '246803', newPin: '975310' }, asBo()))
    expect((await desk.office.person(bo))?.pin).toBe('own')
  })

  test('the right one proves the person, a wrong one does not', async () => {
    expect(granted(await prove('246803')).person).toMatchObject({ personId: bo, name: 'Bo Ekström', roles: ['station'] })
    expect(ruleOf(await prove('246804'))).toBe('wrongPin')
    expect(ruleOf(await prove('246803', 'device-1', 'nobody'))).toBe('noSuchPerson')
  })

  test('wrong ones make the next wait longer; right ones are not even looked at meanwhile; a restart changes nothing', async () => {
    expect([await prove('100001'), await prove('100002'), await prove('100003')].map(ruleOf)).toEqual(['wrongPin', 'wrongPin', 'wrongPin'])
    expect(await prove('246803')).toMatchObject({ refused: { rule: 'tooManyTries', params: { seconds: 5 } } })
    await desk.reopen()
    expect(ruleOf(await prove('246803', 'device-2'))).toBe('tooManyTries')
    desk.clock.now += 5_000
    expect(ruleOf(await prove('100004'))).toBe('wrongPin')
    expect(await prove('246803')).toMatchObject({ refused: { params: { seconds: 10 } } })
    desk.clock.now += 10_000
    granted(await prove('246803'))
    expect(ruleOf(await prove('100005'))).toBe('wrongPin')
    granted(await prove('246803'))
  })

  test('fifty guesses at once are no more than three', async () => {
    const answers = await Promise.all(Array.from({ length: 50 }, (_, guess) => prove(String(500_000 + guess), `device-${guess}`)))
    expect(answers.filter((answer) => ruleOf(answer) === 'wrongPin')).toHaveLength(3)
  })

  test('a device that guesses at many people waits, and one’s own PIN buys it no tries', async () => {
    const people = []
    for (let each = 0; each < 6; each++) {
      const body = { name: `Person ${each}`, roles: ['station' as const], qualifications: [], pin: '246803' }
      people.push(granted(await desk.office.addPerson(body, asInes())).personId)
    }
    const rules = []
    for (const personId of people) {
      rules.push(ruleOf(await prove('111222', 'device-9', personId)), ruleOf(await prove('111333', 'device-9', personId)))
      if (rules.at(-1) === 'wrongPin') await prove('246803', 'device-9', bo)
    }
    expect(rules).toEqual([...Array<string>(10).fill('wrongPin'), 'tooManyTries', 'tooManyTries'])
    granted(await prove('246803', 'device-1', bo))
  })

  test('a new PIN from the coordinator ends the wait and is a first one until its person changes it', async () => {
    for (const guess of ['100001', '100002', '100003']) await prove(guess)
    granted(await desk.office.setPin({ personId: bo, pin: '975310' }, asInes()))
    granted(await prove('975310'))
    expect((await desk.office.person(bo))?.pin).toBe('first')
    const asBo = () => told(bo, ['station'])
    expect(ruleOf(await desk.office.changeOwnPin({ oldPin: '246803', newPin: '864203' }, asBo()))).toBe('wrongPin')
    granted(await desk.office.changeOwnPin({ oldPin: '975310', newPin: '864203' }, asBo()))
    expect((await desk.office.person(bo))?.pin).toBe('own')
    granted(await prove('864203'))
  })

  test('one digit repeated or digits in a row are refused', async () => {
    expect(['0000', '1234', '987654', '3333333'].map(isTooSimple)).toEqual([true, true, true, true])
    expect(['0001', '1235', '270511', '1357'].map(isTooSimple)).toEqual([false, false, false, false])
    expect(ruleOf(await desk.office.setPin({ personId: bo, pin: '1234' }, asInes()))).toBe('pinTooSimple')
  })

  test('neither the PIN nor a hash that could be tried without the key file lies in the store', async () => {
    const { scryptSync } = await import('node:crypto')
    const { default: Database } = await import('better-sqlite3')
    const db = new Database(join(desk.dataFolder, 'people.sqlite'), { readonly: true })
    const row = db.prepare('SELECT pinHash, pinSalt, pinCost FROM person WHERE personId = ?').get(bo) as {
      pinHash: Buffer
      pinSalt: Buffer
      pinCost: number
    }
    db.close()
    expect(scryptSync('246803', row.pinSalt, 32, { N: row.pinCost, r: 8, p: 1 }).equals(row.pinHash)).toBe(false)
    const files = ['people.sqlite', 'people.sqlite-wal'].map((name) => readFileSync(join(desk.dataFolder, name), 'latin1')).join('')
    expect(files).toContain('Bo Ekstr')
    expect(files).not.toContain('246803')
    const other = granted(
      await desk.office.addPerson({ name: 'Other', roles: ['station'], qualifications: [], pin: '246803' }, asInes()),
    ).personId
    const again = new Database(join(desk.dataFolder, 'people.sqlite'), { readonly: true })
    const hash = again.prepare('SELECT pinHash FROM person WHERE personId = ?').pluck().get(other) as Buffer
    again.close()
    expect(hash.equals(row.pinHash)).toBe(false)
  })
})

describe('people', () => {
  test('roles, qualifications and names change, each by an event', async () => {
    const run = 'run' as StationId
    granted(await desk.office.qualify({ personId: bo, stationId: run, until: '2027-05-11' }, asInes()))
    expect(await desk.office.qualifiedFor(bo, '2027-05-11')).toEqual(['run'])
    expect(await desk.office.qualifiedFor(bo, '2027-05-12')).toEqual([])
    granted(await desk.office.qualify({ personId: bo, stationId: run, until: null }, asInes()))
    expect(await desk.office.qualifiedFor(bo, '2030-01-01')).toEqual(['run'])
    granted(await desk.office.endQualification({ personId: bo, stationId: run }, asInes()))
    granted(await desk.office.changeRoles({ personId: bo, roles: ['station', 'supervisor'] }, asInes()))
    granted(await desk.office.renamePerson({ personId: bo, name: 'Bo Ekstrøm' }, asInes()))
    expect(await desk.office.person(bo)).toMatchObject({ name: 'Bo Ekstrøm', roles: ['station', 'supervisor'], qualifications: [] })
    const types = []
    for await (const entry of desk.ledger.read('people/hill', 0)) types.push(...entry.events.map(({ type }) => type))
    expect(types).toEqual([
      'personAdded',
      'pinSet',
      'personAdded',
      'pinSet',
      'qualified',
      'qualified',
      'qualificationEnded',
      'rolesChanged',
      'personRenamed',
    ])
  })

  test('who has left signs on no more', async () => {
    granted(await desk.office.letPersonGo({ personId: bo }, asInes()))
    expect(ruleOf(await prove('246803'))).toBe('personLeft')
    expect(ruleOf(await desk.office.changeRoles({ personId: bo, roles: ['safety'] }, asInes()))).toBe('personLeft')
  })

  test('a badge names its person; a lost one is replaced, one taken back or of somebody who left names nobody', async () => {
    const badge = async () => (await desk.office.person(bo))!.badge!
    expect(granted(await desk.office.makeBadges({ personIds: [bo, ines] }, asInes()))).toEqual({ made: 2 })
    const lost = await badge()
    expect(lost).toMatch(/^B[0-9]{7}$/)
    expect(granted(await desk.office.whoseBadge(lost)).person.personId).toBe(bo)
    expect(ruleOf(await desk.office.whoseBadge('B12'))).toBe('badgeUnknown')

    granted(await desk.office.makeBadges({ personIds: [bo] }, asInes()))
    expect(ruleOf(await desk.office.whoseBadge(lost))).toBe('badgeTakenBack')
    const second = await badge()
    expect(granted(await desk.office.whoseBadge(second)).person.personId).toBe(bo)
    granted(await desk.office.takeBadgeBack({ personId: bo }, asInes()))
    expect(ruleOf(await desk.office.whoseBadge(second))).toBe('badgeTakenBack')
    expect(ruleOf(await desk.office.takeBadgeBack({ personId: bo }, asInes()))).toBe('noBadge')

    granted(await desk.office.makeBadges({ personIds: [bo] }, asInes()))
    granted(await desk.office.letPersonGo({ personId: bo }, asInes()))
    expect(ruleOf(await desk.office.whoseBadge(await badge()))).toBe('badgeNotToday')
    expect(ruleOf(await desk.office.makeBadges({ personIds: [bo] }, asInes()))).toBe('personLeft')
  })

  test('the last coordinator stays', async () => {
    expect(ruleOf(await desk.office.letPersonGo({ personId: ines }, asInes()))).toBe('lastCoordinator')
    expect(ruleOf(await desk.office.changeRoles({ personId: ines, roles: ['auditor'] }, asInes()))).toBe('lastCoordinator')
    granted(await desk.office.changeRoles({ personId: bo, roles: ['coordinator'] }, asInes()))
    granted(await desk.office.letPersonGo({ personId: ines }, asInes()))
  })
})

describe('devices', () => {
  const invite = () =>
    desk.office.inviteDevice({ name: 'Track 1', purpose: 'staff', stationId: 'run' as StationId }, asInes()).then(granted)
  const nobody = () => told(null, [], { deviceId: 'unknown' })

  test('a code enrols one device once, and its token proves it', async () => {
    const { code, deviceId } = await invite()
    const { device, token } = granted(await desk.office.enrolDevice(code.toLowerCase(), nobody()))
    expect(device).toMatchObject({ deviceId, name: 'Track 1', purpose: 'staff', stationId: 'run', state: 'enrolled' })
    expect(await desk.office.deviceOf(token)).toEqual(device)
    expect(ruleOf(await desk.office.enrolDevice(code, nobody()))).toBe('codeUsed')
    expect(await desk.office.deviceOf(`${token}x`)).toBeNull()
  })

  test('two that type one code at once are one device', async () => {
    const { code } = await invite()
    const answers = await Promise.all([desk.office.enrolDevice(code, nobody()), desk.office.enrolDevice(code, nobody())])
    expect(answers.map(ruleOf).sort()).toEqual(['codeUsed', undefined])
  })

  test('a code grows too old, an unknown one is refused, a revoked device is out at once', async () => {
    expect(ruleOf(await desk.office.enrolDevice('ABCDEFGHJK', nobody()))).toBe('codeNotKnown')
    const old = await invite()
    desk.clock.now = old.expiresAt + 1
    expect(ruleOf(await desk.office.enrolDevice(old.code, nobody()))).toBe('codeExpired')
    const { code, deviceId } = await invite()
    const { token } = granted(await desk.office.enrolDevice(code, nobody()))
    granted(await desk.office.revokeDevice({ deviceId }, asInes()))
    expect(await desk.office.deviceOf(token)).toBeNull()
    expect(ruleOf(await desk.office.enrolDevice(code, nobody()))).toBe('deviceRevoked')
  })

  test('neither code nor token lies in ledger or store', async () => {
    const { code } = await invite()
    const { token } = granted(await desk.office.enrolDevice(code, nobody()))
    let text = ''
    for await (const entry of desk.ledger.read('devices/hill', 0)) text += JSON.stringify(entry)
    await desk.office.close()
    text += readFileSync(join(desk.dataFolder, 'people.sqlite'), 'latin1')
    expect([code, token].filter((secret) => text.includes(secret))).toEqual([])
    await desk.reopen()
  })
})
