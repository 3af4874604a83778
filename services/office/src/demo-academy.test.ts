import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { ageOn } from '@musterbook/scoring/age'
import { OpenDay } from '@musterbook/vocabulary/opening'
import { ComposeDay } from '@musterbook/vocabulary/office'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { desked, type Desked, granted, morning } from './controls.ts'
import { openOffice } from './office.ts'
import { type DemoAcademy, demoAcademy, demoDay } from './demo-academy.ts'

let desk: Desked
let academy: DemoAcademy
beforeAll(async () => {
  desk = await desked()
  academy = await demoAcademy(desk.office, morning)
})
afterAll(() => desk.end())

const compose = (more: object = {}) =>
  desk.office.composeDay(ComposeDay.parse({ ...demoDay, rehearsal: true, classIds: [academy.classId], ...more }))

test('forty students, eleven staff, fourteen devices and ten pieces of equipment stand in the office', async () => {
  expect((await desk.office.studentsOfClass(academy.classId)).map(({ code }) => code)).toEqual(academy.students.map(({ code }) => code))
  expect(academy.students).toHaveLength(40)
  expect((await desk.office.people()).map(({ name }) => name).sort()).toEqual(
    Object.values(academy.staff)
      .map(({ name }) => name)
      .sort(),
  )
  expect(await desk.office.devices()).toHaveLength(14)
  expect(await desk.office.equipment()).toHaveLength(10)
  expect(await desk.office.setUpNeeded()).toBe(false)
})

test('every student falls into a group of the demonstration norms on the test day', () => {
  const yearsOld = academy.students.map(({ birthDate }) => ageOn(birthDate, demoDay.date, 'march1'))
  expect(Math.min(...yearsOld)).toBeGreaterThanOrEqual(20)
  expect(Math.max(...yearsOld)).toBeLessThanOrEqual(39)
})

test('the day composes from what two people adopted, and opens as it stands', async () => {
  const composed = await compose()
  if ('missing' in composed) throw new Error(composed.missing.join(' '))
  const { facts, rules, expected } = OpenDay.parse(composed.openDay)
  expect(facts).toMatchObject({ date: '2027-05-11', timeZone: 'Europe/Oslo', utcOffsetMinutes: 120, siteId: 'skarnvale', rehearsal: true })
  expect(rules.stations.map(({ stationId, protocol }) => [stationId, protocol.protocolId, protocol.outdoor])).toEqual([
    ['skinfold', 'skinfold', false],
    ['agility', 'agility', false],
    ['reach', 'sitAndReach', false],
    ['bench', 'benchPress', false],
    ['run', 'run', true],
  ])
  expect(rules.heatPolicy?.id).toBe('HP-1')
  expect(rules.norms.map(({ edition }) => edition)).toEqual(['FX-1', 'FX-1', 'FX-1', 'FX-1', 'FX-1'])
  expect(rules.contactAgeMs).toBe(300_000)
  expect(expected).toHaveLength(40)
  const kofi = academy.students.find(({ bib }) => bib === '105')
  expect(expected.find(({ studentId }) => studentId === kofi?.studentId)?.normGroup).toEqual({ sex: 'M', ageYears: 30 })
  const sunniva = academy.students.find(({ bib }) => bib === '108')
  expect(expected.find(({ studentId }) => studentId === sunniva?.studentId)?.normGroup).toEqual({ sex: 'W', ageYears: 24 })
})

test('Ada and Adam Marsh are marked for each other, and nobody else is', async () => {
  const onDay = await desk.office.studentsOnDay(academy.students.map(({ studentId }) => studentId))
  const marked = onDay.filter(({ lookAlike }) => lookAlike.length > 0)
  expect(marked.map(({ name, lookAlike }) => [name, lookAlike])).toEqual([
    ['Ada Marsh', [academy.students[1]?.studentId]],
    ['Adam Marsh', [academy.students[0]?.studentId]],
  ])
})

test('Bo is qualified for run and agility alone, and for nothing once that has ended', async () => {
  const { personId } = academy.staff.bo
  expect(await desk.office.qualifiedFor(personId, demoDay.date)).toEqual(['run', 'agility'])
  expect(await desk.office.qualifiedFor(personId, '2028-05-31')).toEqual(['run', 'agility'])
  expect(await desk.office.qualifiedFor(personId, '2028-06-01')).toEqual([])
})

test('no name, birth date, code or PIN stands in any entry of the ledger', async () => {
  const streams = await desk.ledger.streams('')
  let text = ''
  for (const { stream } of streams) for await (const entry of desk.ledger.read(stream, 0)) text += JSON.stringify(entry)
  const personal = [
    ...academy.students.flatMap(({ familyName, birthDate, code }) => [familyName, birthDate, `"${code}"`]),
    ...Object.values(academy.staff).flatMap(({ name, pin }) => [name, `"${pin}"`]),
  ]
  // The invented clinician of the demo's questions is named in their adopted wording, which is no record of a person.
  const found = personal.filter((words) => text.replaceAll('Petra Holm, invented clinician of the demonstration', '').includes(words))
  expect(found).toEqual([])
  expect(streams.map(({ stream }) => stream).sort()).toEqual([
    'class/lark-7',
    'devices/skarnvale',
    'equipment/skarnvale',
    'people/skarnvale',
    'rules/skarnvale',
    'venue/skarnvale',
  ])
})

test('the same over a ledger in a file, when the whole process starts again', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'academy-'))
  const start = async () => {
    const ledger = sqliteLedger({ file: join(folder, 'ledger.sqlite') })
    const dataFolder = join(folder, 'data')
    const office = await openOffice({ ledger, dataFolder, keyFile: join(folder, 'key'), now: () => morning, pinCost: 2 ** 10 })
    return { office, stop: async () => void (await office.close(), await ledger.close()) }
  }
  const first = await start()
  const { classId, staff } = await demoAcademy(first.office, morning)
  const before = await first.office.studentsOfClass(classId)
  await first.stop()
  const second = await start()
  expect(await second.office.studentsOfClass(classId)).toEqual(before)
  expect(granted(await second.office.provePerson(staff.bo.personId, staff.bo.pin, 'device-1' as never)).person.name).toBe('Bo Ekström')
  expect(await second.office.newSetUpCode()).toBeNull()
  await second.stop()
  rmSync(folder, { recursive: true })
})

test('everything is there again after a restart', async () => {
  const before = [
    await desk.office.people(),
    await desk.office.studentsOfClass(academy.classId),
    await desk.office.rules(),
    await compose(),
  ]
  const office = await desk.reopen()
  expect([await office.people(), await office.studentsOfClass(academy.classId), await office.rules(), await compose()]).toEqual(before)
  const { personId, pin } = academy.staff.mira
  expect(granted(await office.provePerson(personId, pin, academy.desk.deviceId)).person.name).toBe('Mira Delacroix')
  expect((await office.deviceOf(academy.desk.token))?.name).toBe('Office desk')
})
