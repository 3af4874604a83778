import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { DayId } from '@musterbook/vocabulary/ids'
import { afterEach, expect, test } from 'vitest'
import { desked, type Desked, granted, settled, told } from './controls.ts'
import { openKeys } from './keys.ts'

let desk: Desked
afterEach(() => desk.end())

/** The tables as they were before records could be erased. */
const olderPeople = `
  CREATE TABLE student (
    studentId TEXT PRIMARY KEY, code TEXT NOT NULL, codeKey TEXT NOT NULL UNIQUE, familyName TEXT NOT NULL, givenName TEXT NOT NULL,
    birthDate TEXT NOT NULL, face TEXT NOT NULL, photoDigest TEXT
  ) STRICT;
  CREATE TABLE photo (photoDigest TEXT PRIMARY KEY, mediaType TEXT NOT NULL, bytes BLOB NOT NULL) STRICT;
  CREATE TABLE text (textId TEXT PRIMARY KEY, sealed BLOB NOT NULL) STRICT;
  DROP TABLE sealedStudent; DROP TABLE sealedPhoto; DROP TABLE words;
`
const olderMedical = 'CREATE TABLE text (textId TEXT PRIMARY KEY, sealed BLOB NOT NULL) STRICT; DROP TABLE words; DELETE FROM item;'
const photo = Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), Buffer.from('Marek at the gate'.repeat(9))])
const photoDigest = 'a'.repeat(64)

test('a folder of the older shape is sealed under its students’ own keys when it is opened, and nothing of it stands in the open', async () => {
  desk = await desked()
  const { asInes } = await settled(desk)
  granted(await desk.office.nameClass({ name: 'Lark-7' }, asInes()))
  const marek = { code: 'LARK-7-107', familyName: 'Dune', givenName: 'Marek', birthDate: '2003-02-14', language: 'en' } as const
  const { studentId } = granted(await desk.office.enrolStudent({ classId: 'lark-7' as never, ...marek, normSex: 'M' }, asInes()))
  const correction = { studentId, to: 'W', reason: 'Typed wrongly in Lark-7' } as const
  granted(await desk.office.correctNormSex(correction as never, told('ines', ['coordinator'], { second: 'tomas' })))
  let textId = ''
  for await (const { events } of desk.ledger.read(`student/${studentId}`, 0)) ({ textId } = events[0]?.['reason'] as { textId: string })
  await desk.office.close()

  // The ring did not exist.
  rmSync(`${desk.keyFile}.ring`)
  const keys = openKeys(desk.keyFile, desk.dataFolder)
  const people = new Database(join(desk.dataFolder, 'people.sqlite'))
  people.exec(olderPeople)
  people
    .prepare('INSERT INTO student VALUES (?, ?, ?, ?, ?, ?, ?, ?)')
    .run(studentId, 'LARK-7-107', 'LARK-7-107', 'Dune', 'Marek', '2003-02-14', 'fox', photoDigest)
  people.prepare('INSERT INTO photo VALUES (?, ?, ?)').run(photoDigest, 'image/png', photo)
  const reason = JSON.stringify({ salt: '00', text: correction.reason })
  people.prepare('INSERT INTO text VALUES (?, ?)').run(textId, keys.seal('text', textId, reason))
  people
    .prepare('INSERT INTO text VALUES (?, ?)')
    .run('text-office', keys.seal('text', 'text-office', JSON.stringify({ salt: '00', text: 'The gate sticks' })))
  people.close()
  const medical = new Database(join(desk.dataFolder, 'medical.sqlite'))
  medical.exec(olderMedical)
  const note = { dayId: 'day-1' as DayId, kind: 'note', about: null, text: 'Slipped at the second cone', writtenBy: 'petra', writtenAt: 1 }
  const item = keys.seal('medical', `note 1 of ${studentId}`, JSON.stringify({ kind: 'note', studentId, note }))
  medical
    .prepare('INSERT INTO item (itemId, whose, sealed) VALUES (?, ?, ?)')
    .run('note 1', keys.mark('medicalIndex', `whose ${studentId}`), item)
  medical.close()
  const plain = () =>
    readdirSync(desk.dataFolder)
      .map((name) => readFileSync(join(desk.dataFolder, name), 'latin1'))
      .join('')
  expect(plain()).toMatch(/Dune/)

  // The office is closed already; closing twice is closing once.
  const office = await desk.reopen()
  const whole = async () => {
    expect(await office.student(studentId)).toMatchObject({ name: 'Marek Dune', code: 'LARK-7-107', birthDate: '2003-02-14', normSex: 'W' })
    expect(await office.findStudents('lark-7-107', 5)).toMatchObject([{ studentId }])
    expect(Buffer.from((await office.photo(photoDigest))?.bytes ?? [])).toEqual(photo)
    expect(await office.openText(textId as never)).toBe(correction.reason)
    expect(await office.openText('text-office' as never)).toBe('The gate sticks')
    const opened = await office.openHealth({ studentId, dayId: null }, told('petra', ['screener']), async () => {})
    expect(opened).toMatchObject({ notes: [note] })
  }
  await whole()
  expect(plain()).not.toMatch(/Dune|Marek|2003-02-14|LARK-7-107/)
  expect(existsSync(`${desk.keyFile}.ring`)).toBe(true)

  // Opened again there is nothing left to move, and all of it goes with its keys.
  await desk.reopen()
  expect(await desk.office.student(studentId)).toMatchObject({ name: 'Marek Dune' })
  granted(await desk.office.askErasure({ studentId, because: 'due' }, asInes()))
  granted(await desk.office.confirmErasure({ studentId }, told('tomas', ['supervisor'])))
  expect(await desk.office.student(studentId)).toBeNull()
  expect(await desk.office.photo(photoDigest)).toBeNull()
  expect(await desk.office.openText(textId as never)).toBeNull()
  expect(await desk.office.openText('text-office' as never)).toBe('The gate sticks')
  const opened = await desk.office.openHealth({ studentId, dayId: null }, told('petra', ['screener']), async () => {})
  expect(opened).toMatchObject({ notes: [] })
})
