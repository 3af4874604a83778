import type { ClassId, StudentId } from '@musterbook/vocabulary/ids'
import { EnrolStudent } from '@musterbook/vocabulary/office'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { desked, type Desked, granted, ruleOf, settled, told } from './controls.ts'

let desk: Desked
let ines: string
let asInes: (more?: object) => ReturnType<typeof told>
let classId: ClassId
beforeEach(async () => {
  desk = await desked()
  const settledDesk = await settled(desk)
  ines = settledDesk.ines
  asInes = (more = {}) => told(ines, ['coordinator'], more)
  classId = granted(await desk.office.nameClass({ name: 'Lark-7' }, asInes())).classId
})
afterEach(() => desk.end())

const kofi = () =>
  EnrolStudent.parse({
    classId,
    code: 'L7-105',
    familyName: 'Brandt',
    givenName: 'Kofi',
    birthDate: '1997-05-11',
    normSex: 'M',
    language: 'en',
  })
const enrol = async (more: object = {}): Promise<StudentId> =>
  granted(await desk.office.enrolStudent({ ...kofi(), ...more }, asInes())).studentId
const lookUp = (code: string, birthDate: string, date = '2027-05-11', device = 'kiosk-1') =>
  desk.office.lookUp({ code, birthDate }, date, device as never)

test('code and birth date together find one student, with the age in completed years on that date', async () => {
  const studentId = await enrol()
  expect(granted(await lookUp(' l7-105 ', '1997-05-11'))).toMatchObject({
    student: { studentId, name: 'Kofi Brandt' },
    normSex: 'M',
    ageYears: 30,
  })
  expect(granted(await lookUp('L7-105', '1997-05-11', '2027-05-10')).ageYears).toBe(29)
})

test('born on 29 February: by the rule in force, 1 March', async () => {
  await enrol({ code: 'leap', birthDate: '2000-02-29' })
  expect(granted(await lookUp('leap', '2000-02-29', '2030-02-28')).ageYears).toBe(29)
  expect(granted(await lookUp('leap', '2000-02-29', '2030-03-01')).ageYears).toBe(30)
})

test('a look-up does not say which of the two was wrong, holds no birth date, and is slowed', async () => {
  await enrol()
  const [wrongDate, wrongCode] = [await lookUp('L7-105', '1997-05-12'), await lookUp('L7-999', '1997-05-11')]
  expect(wrongDate).toEqual(wrongCode)
  expect(ruleOf(wrongDate)).toBe('noMatch')
  expect(JSON.stringify(await lookUp('L7-105', '1997-05-11'))).not.toContain('1997-05-11')
  for (let day = 1; day <= 5; day++) await lookUp('L7-105', `1997-06-0${day}`)
  expect(ruleOf(await lookUp('L7-105', '1997-05-11', '2027-05-11', 'kiosk-2'))).toBe('lookUpWait')
  desk.clock.now += 300_000
  granted(await lookUp('L7-105', '1997-05-11'))
})

test('one code, one student', async () => {
  await enrol()
  expect(ruleOf(await desk.office.enrolStudent({ ...kofi(), code: 'l7-105', familyName: 'Other' }, asInes()))).toBe('codeTaken')
  expect(await desk.office.studentsOfClass(classId)).toHaveLength(1)
})

test('enrolled twice by one command is enrolled once', async () => {
  const once = asInes()
  const first = granted(await desk.office.enrolStudent(kofi(), once))
  expect(await desk.office.enrolStudent(kofi(), once)).toEqual(first)
  expect(await desk.office.studentsOfClass(classId)).toHaveLength(1)
})

test('impossible birth dates, unknown classes and classes of one name are refused', async () => {
  expect(ruleOf(await desk.office.enrolStudent({ ...kofi(), birthDate: '2027-05-12' }, asInes()))).toBe('impossibleBirthDate')
  expect(ruleOf(await desk.office.enrolStudent({ ...kofi(), birthDate: '1897-05-11' }, asInes()))).toBe('impossibleBirthDate')
  expect(ruleOf(await desk.office.enrolStudent({ ...kofi(), classId: 'wren-2' as ClassId }, asInes()))).toBe('noSuchClass')
  expect(ruleOf(await lookUp('L7-105', '1997-05-11'))).toBe('noMatch')
  expect(ruleOf(await desk.office.nameClass({ name: 'LARK-7' }, asInes()))).toBe('classExists')
  const other = granted(await desk.office.nameClass({ name: 'Lark 7' }, asInes()))
  expect(other.classId).not.toBe(classId)
})

test('norm group and birth date are corrected by two different people, with a reason that is sealed', async () => {
  const studentId = await enrol()
  const body = { studentId, to: 'W' as const, reason: 'Registered wrongly by the office' }
  expect(ruleOf(await desk.office.correctNormSex(body, asInes()))).toBe('secondPersonMissing')
  expect(ruleOf(await desk.office.correctNormSex(body, asInes({ second: ines })))).toBe('secondPersonSame')
  granted(await desk.office.correctNormSex(body, asInes({ second: 'tomas' })))
  granted(
    await desk.office.correctBirthDate({ studentId, to: '1997-11-05', reason: 'Day and month exchanged' }, asInes({ second: 'tomas' })),
  )
  expect(await desk.office.student(studentId)).toMatchObject({ normSex: 'W', birthDate: '1997-11-05' })
  expect((await (await desk.reopen()).student(studentId))?.normSex).toBe('W')

  const events = []
  for await (const entry of desk.ledger.read(`student/${studentId}`, 0)) events.push(...entry.events)
  expect(events).toMatchObject([
    { type: 'normSexCorrected', from: 'M', to: 'W', countersigned: { personId: 'tomas' } },
    { type: 'birthDateCorrected', countersigned: { personId: 'tomas' } },
  ])
  expect(JSON.stringify(events)).not.toMatch(/1997|exchanged|wrongly/)
  const [first] = events as unknown as { reason: { textId: never } }[]
  expect(await desk.office.openText(first!.reason.textId)).toBe('Registered wrongly by the office')
})

test('who has left is on no list and found by no code', async () => {
  const studentId = await enrol()
  granted(await desk.office.letStudentGo({ studentId }, asInes()))
  expect(await desk.office.studentsOfClass(classId)).toEqual([])
  expect(ruleOf(await lookUp('L7-105', '1997-05-11'))).toBe('noMatch')
  expect((await desk.office.student(studentId))?.left).toBe(true)
})

test('look-alikes are marked among those asked for alone', async () => {
  const ada = await enrol({ code: '1', familyName: 'Marsh', givenName: 'Ada' })
  const adam = await enrol({ code: '2', familyName: 'Marsh', givenName: 'Adam' })
  const dune = await enrol({ code: '3', familyName: 'Dune', givenName: 'Marek' })
  const marked = async (ids: StudentId[]) => (await desk.office.studentsOnDay(ids)).map(({ lookAlike }) => lookAlike)
  expect(await marked([ada, adam, dune])).toEqual([[adam], [ada], []])
  expect(await marked([ada, dune])).toEqual([[], []])
  expect(await marked([dune, 'nobody' as StudentId])).toEqual([[]])
})

test('a photo is kept by the digest of its bytes, and only a picture is one', async () => {
  const studentId = await enrol()
  expect((await desk.office.student(studentId))?.face).toMatch(/^face-/)
  const png = Buffer.from('iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==', 'base64')
  const { photoDigest } = granted(await desk.office.keepPhoto(studentId, png))
  expect((await desk.office.student(studentId))?.photoDigest).toBe(photoDigest)
  expect(await desk.office.photo(photoDigest)).toEqual({ bytes: new Uint8Array(png), mediaType: 'image/png' })
  expect(ruleOf(await desk.office.keepPhoto(studentId, Buffer.from('<svg onload="x">')))).toBe('photoUnusable')
  expect(ruleOf(await desk.office.keepPhoto(studentId, Buffer.concat([png, Buffer.alloc(2_000_000)])))).toBe('photoUnusable')
  expect(ruleOf(await desk.office.keepPhoto('nobody' as StudentId, png))).toBe('noSuchStudent')
  expect(await desk.office.photo('none')).toBeNull()
})
