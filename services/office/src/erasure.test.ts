import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import { verify } from '@musterbook/ledger/verify'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { desked, type Desked, granted, ruleOf, settled, told } from './controls.ts'
import { openOffice } from './office.ts'

let desk: Desked
let asInes: () => ReturnType<typeof told>
let studentId: StudentId
const asTomas = () => told('tomas', ['supervisor'])
const words = 'Marek Dune slipped at the second cone'
beforeEach(async () => {
  desk = await desked()
  ;({ asInes } = await settled(desk))
  granted(await desk.office.nameClass({ name: 'Lark-7' }, asInes()))
  const marek = {
    code: 'LARK-7-107',
    familyName: 'Dune',
    givenName: 'Marek',
    birthDate: '2003-02-14',
    normSex: 'M',
    language: 'en',
  } as const
  studentId = granted(await desk.office.enrolStudent({ classId: 'lark-7' as never, ...marek }, asInes())).studentId
})
afterEach(() => desk.end())

const ask = () => desk.office.askErasure({ studentId, because: 'due' }, asInes())
const confirm = () => desk.office.confirmErasure({ studentId }, asTomas())

test('two people erase; name, photo, words and medical items open nowhere any more, in no earlier copy of the data either', async () => {
  const png = Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), Buffer.alloc(40, 7)])
  const { photoDigest } = granted(await desk.office.keepPhoto(studentId, png))
  const sealed = await desk.office.seal(words, 'general', studentId)
  const note = { dayId: 'day-1' as DayId, studentId, kind: 'note' as const, about: null, text: words }
  granted(await desk.office.noteHealth(note, told('petra', ['screener'])))
  expect(await desk.office.photo(photoDigest)).toMatchObject({ mediaType: 'image/png' })
  expect(await desk.office.openText(sealed.textId)).toBe(words)

  const earlier = mkdtempSync(join(tmpdir(), 'earlier-'))
  cpSync(desk.dataFolder, join(earlier, 'data'), { recursive: true })

  granted(await ask())
  expect(ruleOf(await ask())).toBe('erasureAskedAlready')
  expect(ruleOf(await desk.office.confirmErasure({ studentId }, asInes()))).toBe('secondPersonSame')
  expect(await desk.office.student(studentId)).toMatchObject({ name: 'Marek Dune' })
  granted(await confirm())

  const gone = async () => {
    expect(await desk.office.student(studentId)).toBeNull()
    expect(await desk.office.findStudents('dune', 10)).toEqual([])
    expect(await desk.office.photo(photoDigest)).toBeNull()
    expect(await desk.office.openText(sealed.textId)).toBeNull()
    const opened = await desk.office.openHealth({ studentId, dayId: null }, told('petra', ['screener']), async () => {})
    expect(opened).toMatchObject({ notes: [], answers: [] })
    expect(await desk.office.erasures()).toMatchObject([{ studentId, because: 'due', erased: { confirmedBy: 'tomas' } }])
  }
  await gone()
  await desk.reopen()
  await gone()
  expect(ruleOf(await confirm())).toBe('alreadyErased')
  expect((await verify(desk.ledger)).faults).toEqual([])

  // The copy of the day before, with the key file of today: rows are there, and open no more.
  const copy = await openOffice({
    ledger: desk.ledger,
    dataFolder: join(earlier, 'data'),
    keyFile: desk.keyFile,
    now: () => desk.clock.now,
    pinCost: 2 ** 10,
  })
  expect(await copy.student(studentId)).toBeNull()
  expect(await copy.openText(sealed.textId)).toBeNull()
  await copy.close()
  rmSync(earlier, { recursive: true })
})

test('no name stands in the data folder in the open, before an erasure or after', async () => {
  const read = () =>
    readdirSync(desk.dataFolder)
      .map((name) => readFileSync(join(desk.dataFolder, name), 'latin1'))
      .join('')
  expect(read()).not.toMatch(/Dune|2003-02-14|LARK-7-107/)
  granted(await ask())
  granted(await confirm())
  expect(read()).not.toMatch(/Dune|2003-02-14|LARK-7-107/)
  expect(readFileSync(`${desk.keyFile}.ring`, 'utf8')).not.toContain(studentId)
  expect(existsSync(`${desk.keyFile}.ring.new`)).toBe(false)
})

test('asked for can be withdrawn; who was never asked for, or is not known, is not erased', async () => {
  expect(ruleOf(await confirm())).toBe('erasureNotAsked')
  expect(ruleOf(await desk.office.askErasure({ studentId: 'nobody' as StudentId, because: 'asked' }, asInes()))).toBe('noSuchStudent')
  granted(await ask())
  granted(await desk.office.withdrawErasure({ studentId }, asInes()))
  expect(ruleOf(await confirm())).toBe('erasureNotAsked')
  expect(await desk.office.erasures()).toEqual([])
})

test('a crash between the entry and the keys is finished when the office opens; a lost ring is not taken for an erasure', async () => {
  granted(await ask())
  const ring = readFileSync(`${desk.keyFile}.ring`)
  const rows = mkdtempSync(join(tmpdir(), 'rows-'))
  cpSync(desk.dataFolder, rows, { recursive: true })
  granted(await confirm())
  await desk.office.close()
  // As it would have been found: the entry stands, the keys and rows do too.
  writeFileSync(`${desk.keyFile}.ring`, ring)
  rmSync(desk.dataFolder, { recursive: true })
  cpSync(rows, desk.dataFolder, { recursive: true })
  const open = () =>
    openOffice({ ledger: desk.ledger, dataFolder: desk.dataFolder, keyFile: desk.keyFile, now: () => desk.clock.now, pinCost: 2 ** 10 })
  desk.office = await open()
  expect(await desk.office.student(studentId)).toBeNull()
  expect(readFileSync(`${desk.keyFile}.ring`, 'utf8')).not.toContain(studentId)

  const bo = { code: 'LARK-7-1', familyName: 'Rill', givenName: 'Bo', birthDate: '2003-02-14', normSex: 'M', language: 'en' } as const
  granted(await desk.office.enrolStudent({ classId: 'lark-7' as never, ...bo }, asInes()))
  await desk.office.close()
  writeFileSync(`${desk.keyFile}.ring`, '')
  await expect(open()).rejects.toThrow('key ring')
  rmSync(rows, { recursive: true })
  writeFileSync(`${desk.keyFile}.ring`, ring)
  desk = await desked()
})

test('a picture of a display goes with the only student beside whose reading it stands, and stays for anybody else', async () => {
  const pictureOf = (byte: number) => Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), Buffer.alloc(40, byte)])
  const keep = async (byte: number) => granted(await desk.office.keepEvidence(pictureOf(byte))).photoDigest
  const [own, ofAnother, reassigned] = [await keep(1), await keep(2), await keep(3)]
  const result = (photoDigest: string, of: string) => ({
    type: 'resultRecorded',
    attemptId: `try-${photoDigest}`,
    studentId: of,
    photoDigest,
  })
  const reassign = {
    type: 'corrected',
    attemptId: `try-${reassigned}`,
    studentId,
    change: { kind: 'reassign', toStudentId: 'student-ada' },
  }
  const events = [result(own, studentId), result(ofAnother, 'student-ada'), result(reassigned, studentId), reassign]
  const meta = { ...told(null, []).envelope, command: 'x', bodyDigest: '0'.repeat(64), personId: null, deviceId: 'device-1' }
  await desk.ledger.append('day/day-1', 0, { meta, recordedAt: 1, events })

  granted(await ask())
  expect(await desk.office.evidence(own)).not.toBeNull()
  granted(await confirm())
  expect(await desk.office.evidence(own)).toBeNull()
  expect(await desk.office.evidence(ofAnother)).toMatchObject({ mediaType: 'image/png' })
  expect(await desk.office.evidence(reassigned)).toMatchObject({ mediaType: 'image/png' })
})
