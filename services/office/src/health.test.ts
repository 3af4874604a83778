import { copyFileSync, cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { digest } from '@musterbook/evidence/canonical'
import { memoryLedger } from '@musterbook/ledger/memory'
import type { AccessEvent } from '@musterbook/vocabulary/access'
import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { desked, type Desked, granted, morning, ruleOf, settled, told } from './controls.ts'
import { openKeys } from './keys.ts'
import { openOffice } from './office.ts'

let desk: Desked
let kept: AccessEvent[]
const studentId = 'student-109' as StudentId
const dayId = 'day-1' as DayId
const asPetra = () => told('petra', ['screener'])
const asColm = () => told('colm', ['station', 'supervisor', 'coordinator', 'safety', 'auditor'])
/** What the gateway does: writes the event into `access/`. */
const log = async (event: AccessEvent) => {
  const { version } = await desk.ledger.head('access/hill')
  const { envelope } = told(null, [])
  const meta = { ...envelope, command: event.type, bodyDigest: digest(event), personId: null, deviceId: 'device-1' }
  await desk.ledger.append('access/hill', version, { meta, recordedAt: desk.clock.now, events: [event] })
  kept.push(event)
}

beforeEach(async () => {
  desk = await desked()
  kept = []
  const { asInes } = await settled(desk)
  const { proposalId } = granted(await desk.office.proposeAdoption({ kind: 'healthQuestions', id: 'HQ-1' }, asInes()))
  granted(await desk.office.confirmAdoption({ proposalId }, told('tomas', ['supervisor'])))
})
afterEach(() => desk.end())

const secretWords = 'sore shoulder since the rockfall drill'
const answers = {
  chest: 'no',
  faint: 'no',
  breath: 'no',
  ill: 'yes',
  heat: 'no',
  injury: 'yes',
  medicine: 'no',
  other: 'no',
  words: secretWords,
}
const answered = () => desk.office.answerHealth({ dayId, studentId, setId: 'HQ-1', answers })
const noted = () =>
  desk.office.noteHealth({ dayId, studentId, kind: 'clearanceReason', about: 'clearance-7', text: 'no lift: rotator cuff' }, asPetra())

describe('who reads', () => {
  test('the screener reads answers and notes; the opening is on record before', async () => {
    granted(await answered())
    granted(await answered())
    granted(await noted())
    const record = granted(await desk.office.openHealth({ studentId, dayId }, asPetra(), log))
    expect(record).toEqual({
      studentId,
      answers: [{ dayId, setId: 'HQ-1', answers, givenAt: morning }],
      notes: [
        { dayId, kind: 'clearanceReason', about: 'clearance-7', text: 'no lift: rotator cuff', writtenBy: 'petra', writtenAt: morning },
      ],
    })
    expect(kept).toEqual([{ type: 'healthOpened', personId: 'petra', deviceId: 'device-1', studentId, dayId }])
  })

  test('nobody else does, whatever other roles they have', async () => {
    granted(await answered())
    expect(ruleOf(await desk.office.openHealth({ studentId, dayId }, asColm(), log))).toBe('onlyScreener')
    expect(ruleOf(await desk.office.openHealth({ studentId, dayId }, told(null, ['screener']), log))).toBe('personNeeded')
    expect(ruleOf(await desk.office.noteHealth({ dayId, studentId, kind: 'note', about: null, text: 'x' }, asColm()))).toBe('onlyScreener')
    expect(kept).toEqual([])
  })

  test('nothing opens when the opening cannot be put on record', async () => {
    granted(await answered())
    const broken = async () => Promise.reject(new Error('disk full'))
    await expect(desk.office.openHealth({ studentId, dayId }, asPetra(), broken)).rejects.toThrow('disk full')
    await expect(desk.office.openHealthInEmergency({ studentId, dayId, reason: 'collapsed' }, asColm(), broken)).rejects.toThrow(
      'disk full',
    )
  })

  test('each day’s answers are its own; without a day all are shown', async () => {
    granted(await answered())
    granted(await desk.office.answerHealth({ dayId: 'day-2' as DayId, studentId, setId: 'HQ-1', answers: { ...answers, words: '' } }))
    expect(granted(await desk.office.openHealth({ studentId, dayId: 'day-2' as DayId }, asPetra(), log)).answers).toHaveLength(1)
    expect(granted(await desk.office.openHealth({ studentId, dayId: null }, asPetra(), log)).answers).toHaveLength(2)
    expect(granted(await desk.office.openHealth({ studentId: 'other' as StudentId, dayId: null }, asPetra(), log)).answers).toEqual([])
  })
})

describe('an emergency opening', () => {
  test('by another named person, with a reason, is on record and waits for somebody else’s review', async () => {
    granted(await answered())
    expect(ruleOf(await desk.office.openHealthInEmergency({ studentId, dayId, reason: ' ' }, asColm(), log))).toBe('reasonMissing')
    expect(ruleOf(await desk.office.openHealthInEmergency({ studentId, dayId, reason: 'x' }, told(null, ['device']), log))).toBe(
      'personNeeded',
    )
    const { openingId, ...record } = granted(
      await desk.office.openHealthInEmergency({ studentId, dayId, reason: 'collapsed on lap 5' }, asColm(), log),
    )
    expect(record.answers[0]?.answers['words']).toBe(secretWords)
    expect(kept).toMatchObject([{ type: 'healthOpenedInEmergency', openingId, personId: 'colm', studentId }])
    expect(JSON.stringify(kept)).not.toContain('collapsed')

    expect(await desk.office.openingsToReview()).toEqual([
      { openingId, personId: 'colm', studentId, dayId, reason: 'collapsed on lap 5', openedAt: morning },
    ])
    expect(ruleOf(await desk.office.reviewOpening({ openingId, finding: 'accepted', note: null }, asColm(), log))).toBe('ownOpening')
    granted(
      await desk.office.reviewOpening(
        { openingId, finding: 'notAccepted', note: 'the screener stood beside' },
        told('tomas', ['supervisor']),
        log,
      ),
    )
    expect(await desk.office.openingsToReview()).toEqual([])
    expect(ruleOf(await desk.office.reviewOpening({ openingId, finding: 'accepted', note: null }, asPetra(), log))).toBe('noSuchOpening')
  })
})

describe('questions', () => {
  test('are asked in every language once two people adopted them, with whose wording they are', async () => {
    const set = await desk.office.healthQuestions()
    expect(set).toMatchObject({ id: 'HQ-1', invented: true, wordingOn: '2027-04-20' })
    expect(set?.wordingBy).toContain('Petra Holm')
    for (const { asks } of set?.questions ?? []) expect(Object.keys(asks).sort()).toEqual(['ar', 'en', 'es'])
  })

  test('answers that do not fit are refused', async () => {
    const answer = (more: object, setId = 'HQ-1') => desk.office.answerHealth({ dayId, studentId, setId, answers: { ...answers, ...more } })
    expect(ruleOf(await answer({ chest: 'maybe' }))).toBe('answersDoNotFit')
    expect(ruleOf(await answer({ blood: 'no' }))).toBe('answersDoNotFit')
    expect(ruleOf(await answer({}, 'HQ-2'))).toBe('answersDoNotFit')
    const { chest: _, ...rest } = answers
    expect(ruleOf(await desk.office.answerHealth({ dayId, studentId, setId: 'HQ-1', answers: rest }))).toBe('answersDoNotFit')
  })
})

describe('words that people typed', () => {
  test('lie beside the ledger, which holds a salted digest of them', async () => {
    const [one, same] = [await desk.office.seal('slipped', 'general', null), await desk.office.seal('slipped', 'general', null)]
    expect(one.digest).not.toBe(same.digest)
    expect(one.digest).not.toBe(digest('slipped'))
    expect(await desk.office.openText(one.textId)).toBe('slipped')
    expect(await desk.office.openText('none' as never)).toBeNull()
  })

  test('medical ones open to the screener alone', async () => {
    const { textId } = await desk.office.seal(secretWords, 'medical', null)
    expect(await desk.office.openText(textId)).toBeNull()
    expect(ruleOf(await desk.office.openMedicalText(textId, studentId, asColm(), log))).toBe('onlyScreener')
    expect(granted(await desk.office.openMedicalText(textId, studentId, asPetra(), log))).toEqual({ text: secretWords })
    expect(kept).toMatchObject([{ type: 'healthOpened', personId: 'petra', studentId }])
  })
})

describe('a copied data folder', () => {
  let copy: string
  beforeEach(async () => {
    granted(await answered())
    granted(await noted())
    await desk.office.seal(secretWords, 'general', null)
    await desk.office.seal(secretWords, 'medical', null)
    // As a thief takes it, while it is in use: every file of the folder.
    copy = mkdtempSync(join(tmpdir(), 'copied-'))
    cpSync(desk.dataFolder, join(copy, 'data'), { recursive: true })
  })
  afterEach(() => rmSync(copy, { recursive: true }))
  const open = (keyFile: string) =>
    openOffice({ ledger: memoryLedger(), dataFolder: join(copy, 'data'), keyFile, now: () => morning, pinCost: 2 ** 10 })

  test('holds no key, no health word and no student’s id in its medical store', () => {
    const files = readdirSync(join(copy, 'data'))
    expect(files).toContain('medical.sqlite')
    const bytes = files.map((name) => readFileSync(join(copy, 'data', name), 'latin1')).join('')
    expect(bytes).toContain('Ines Varga') // Proof that the search can find something: names lie in the open here.
    const key = readFileSync(desk.keyFile, 'utf8').trim()
    const secrets = [secretWords, 'shoulder', 'rotator cuff', '"injury"', key, Buffer.from(key, 'hex').toString('latin1')]
    expect(secrets.filter((secret) => bytes.includes(secret))).toEqual([])
    const medical = files.filter((name) => name.startsWith('medical')).map((name) => readFileSync(join(copy, 'data', name), 'latin1'))
    expect(medical.join('')).not.toContain(studentId)
  })

  test('does not start with another key file, nor with a fresh one', async () => {
    await expect(open(join(copy, 'fresh.key'))).rejects.toThrow('sealed with another key file')
    writeFileSync(join(copy, 'guessed.key'), '00'.repeat(32))
    await expect(open(join(copy, 'guessed.key'))).rejects.toThrow('sealed with another key file')
  })

  test('gives nothing away even when the check of the key is cut out of it', async () => {
    for (const name of ['people.sqlite', 'medical.sqlite']) {
      const db = new Database(join(copy, 'data', name))
      db.exec('DELETE FROM keyCheck')
      db.close()
    }
    const office = await open(join(copy, 'fresh.key'))
    expect(granted(await office.openHealth({ studentId, dayId: null }, asPetra(), async () => {}))).toEqual({
      studentId,
      answers: [],
      notes: [],
    })
    const other = openKeys(join(copy, 'fresh.key'), join(copy, 'data'))
    const db = new Database(join(copy, 'data', 'medical.sqlite'), { readonly: true })
    const rows = db.prepare('SELECT itemId, sealed FROM item').all() as { itemId: string; sealed: Buffer }[]
    expect(rows).toHaveLength(2)
    for (const { itemId, sealed } of rows) expect(other.openFor(`medical:${studentId}`, `${itemId} of ${studentId}`, sealed)).toBeNull()
    const text = db.prepare('SELECT textId, sealed FROM words').get() as { textId: string; sealed: Buffer }
    expect(() => other.open('text', text.textId, text.sealed)).toThrow()
    db.close()
    await office.close()
  })

  test('opens with its own key file, so that the tests above prove the key and not a broken copy', async () => {
    for (const part of ['', '.ring']) copyFileSync(desk.keyFile + part, join(copy, 'own.key') + part)
    const office = await open(join(copy, 'own.key'))
    const record = granted(await office.openHealth({ studentId, dayId: null }, asPetra(), async () => {}))
    expect([record.answers.length, record.notes.length]).toEqual([1, 1])
    await office.close()
  })
})

describe('the key file', () => {
  test('is made for its owner alone, and never inside the data folder', () => {
    expect(statSync(desk.keyFile).mode & 0o777).toBe(0o600)
    const inside = [join(desk.dataFolder, 'office.key'), join(desk.dataFolder, '..', 'data', 'office.key')]
    mkdirSync(join(desk.dataFolder, 'deep'))
    for (const keyFile of [...inside, join(desk.dataFolder, 'deep', 'office.key')])
      expect(() => openKeys(keyFile, desk.dataFolder)).toThrow('must lie outside the data folder')
  })

  test('that is no key is refused', () => {
    const file = join(desk.dataFolder, '..', 'notes.txt')
    writeFileSync(file, 'remember the milk')
    expect(() => openKeys(file, desk.dataFolder)).toThrow('is not a key file')
  })

  test('binds a sealed value to its place, and shows any change to it', () => {
    const keys = openKeys(desk.keyFile, desk.dataFolder)
    keys.makeOwn(['medical:student-1', 'medical:student-2'])
    const sealed = keys.sealFor('medical:student-1', 'one of student-1', 'words')
    expect(keys.openFor('medical:student-1', 'one of student-1', sealed)).toBe('words')
    expect(() => keys.openFor('medical:student-1', 'one of student-2', sealed)).toThrow()
    expect(() => keys.openFor('medical:student-2', 'one of student-1', sealed)).toThrow()
    expect(() => keys.open('text', 'one of student-1', sealed)).toThrow()
    for (let index = 0; index < sealed.length; index++) {
      const bent = Buffer.from(sealed)
      bent[index] = (bent[index] ?? 0) ^ 1
      expect(() => keys.openFor('medical:student-1', 'one of student-1', bent)).toThrow()
    }
  })
})
