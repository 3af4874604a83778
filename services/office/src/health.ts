import { createHash } from 'node:crypto'
import { canonical } from '@musterbook/evidence/canonical'
import { AccessEvent, type AccessLog } from '@musterbook/vocabulary/access'
import type { DayId, PersonId, StudentId } from '@musterbook/vocabulary/ids'
import type { EmergencyOpening, HealthQuestions, HealthRecord, Office, Told } from '@musterbook/vocabulary/office'
import { type OfficeRefusal, officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Desk } from './desk.ts'
import { answersFault } from './health-questions.ts'
import { medicalOwner } from './student-shelf.ts'
import type { Texts } from './texts.ts'

type Item =
  | ({ kind: 'answers' } & HealthRecord['answers'][number] & { studentId: StudentId })
  | ({ kind: 'note'; note: HealthRecord['notes'][number] } & { studentId: StudentId })

interface Needs {
  texts: Texts
  siteId(): Promise<string>
  questions(): Promise<HealthQuestions | null>
}
type Health = Pick<
  Office,
  | 'healthQuestions'
  | 'answerHealth'
  | 'noteHealth'
  | 'openHealth'
  | 'openMedicalText'
  | 'openHealthInEmergency'
  | 'openingsToReview'
  | 'reviewOpening'
>

/** The medical compartment. It is opened by the screener, or in an emergency by a named person with a reason; never before the opening is on record. */
export function health(desk: Desk, { texts, siteId, questions }: Needs): Health {
  const shelf = itemShelf(desk)

  const openings = async () => {
    const open = new Map<string, EmergencyOpening>()
    for await (const entry of desk.ledger.read(`access/${await siteId()}`, 0)) {
      for (const event of entry.events.map((each) => AccessEvent.parse(each))) {
        if (event.type === 'emergencyOpeningReviewed') open.delete(event.openingId)
        if (event.type !== 'healthOpenedInEmergency') continue
        const { openingId, personId, studentId, dayId, reason } = event
        open.set(openingId, {
          openingId,
          personId,
          studentId,
          dayId,
          reason: texts.open(reason.textId, 'medical') ?? '',
          openedAt: entry.recordedAt,
        })
      }
    }
    return [...open.values()]
  }

  return {
    healthQuestions: questions,
    answerHealth: async (body) => {
      const set = await questions()
      if (!set) return officeRefusal('questionsNotInForce')
      if (set.id !== body.setId) return officeRefusal('answersDoNotFit', { why: `the questions in force are ${set.id}` })
      const why = answersFault(set, body.answers)
      if (why) return officeRefusal('answersDoNotFit', { why })
      shelf.keep(shelf.idOf(body), { kind: 'answers', ...body, givenAt: desk.now() })
      return { kept: true }
    },
    noteHealth: async ({ studentId, ...note }, told) => {
      const screener = screenerOf(told)
      if ('refused' in screener) return screener
      const written = { ...note, writtenBy: screener.personId, writtenAt: desk.now() }
      shelf.keep(`note ${told.envelope.commandId}`, { kind: 'note', studentId, note: written })
      return { kept: true }
    },
    openHealth: async ({ studentId, dayId }, told, log) => {
      const screener = screenerOf(told)
      if ('refused' in screener) return screener
      await log({ type: 'healthOpened', personId: screener.personId, deviceId: told.by.deviceId, studentId, dayId })
      return shelf.open(studentId, dayId)
    },
    openMedicalText: async (textId, studentId, told, log) => {
      const screener = screenerOf(told)
      if ('refused' in screener) return screener
      await log({ type: 'healthOpened', personId: screener.personId, deviceId: told.by.deviceId, studentId, dayId: null })
      return { text: texts.open(textId, 'medical') }
    },
    openHealthInEmergency: async ({ studentId, dayId, reason }, told, log) => {
      const { personId, roles, deviceId } = told.by
      if (personId === null) return officeRefusal('personNeeded')
      if (reason.trim() === '') return officeRefusal('reasonMissing')
      const openingId = desk.newId('opening')
      const sealed = texts.seal(reason, 'medical', studentId)
      await log({ type: 'healthOpenedInEmergency', openingId, personId, roles: [...roles], deviceId, studentId, dayId, reason: sealed })
      return { openingId, ...shelf.open(studentId, dayId) }
    },
    openingsToReview: openings,
    reviewOpening: (body, told, log) => review(body, told, log, openings, texts),
  }
}

async function review(
  { openingId, finding, note }: Parameters<Office['reviewOpening']>[0],
  told: Told,
  log: AccessLog,
  openings: () => Promise<EmergencyOpening[]>,
  texts: Texts,
) {
  const { personId } = told.by
  if (personId === null) return officeRefusal('personNeeded')
  const opening = (await openings()).find((each) => each.openingId === openingId)
  if (!opening) return officeRefusal('noSuchOpening')
  if (opening.personId === personId) return officeRefusal('ownOpening')
  await log({
    type: 'emergencyOpeningReviewed',
    openingId,
    personId,
    finding,
    note: note === null ? null : texts.seal(note, 'medical', opening.studentId),
  })
  return { openingId }
}

function screenerOf({ by }: Told): { personId: PersonId } | { refused: OfficeRefusal } {
  if (by.personId === null) return officeRefusal('personNeeded')
  return by.roles.includes('screener') ? { personId: by.personId } : officeRefusal('onlyScreener')
}

/** Sealed rows. Whose they are is a keyed mark: a copied folder does not even tell who has any. */
function itemShelf({ medical, keys }: Desk) {
  const keep = medical.prepare('INSERT OR IGNORE INTO item (itemId, whose, sealed) VALUES (?, ?, ?)')
  const ofWhom = medical.prepare('SELECT itemId, sealed FROM item WHERE whose = ? ORDER BY number')
  const whose = (studentId: string) => keys.mark('medicalIndex', `whose ${studentId}`)
  const placeOf = (itemId: string, studentId: string) => `${itemId} of ${studentId}`
  return {
    /** The same answers told twice are one. */
    idOf: (body: object) => keys.mark('medicalIndex', createHash('sha256').update(canonical(body)).digest('hex')),
    keep: (itemId: string, item: Item) => {
      const owner = medicalOwner(item.studentId)
      keys.makeOwn([owner])
      keep.run(itemId, whose(item.studentId), keys.sealFor(owner, placeOf(itemId, item.studentId), JSON.stringify(item)))
    },
    open: (studentId: StudentId, dayId: DayId | null): HealthRecord => {
      const rows = ofWhom.all(whose(studentId)) as { itemId: string; sealed: Buffer }[]
      const items = rows.flatMap(({ itemId, sealed }) => {
        const text = keys.openFor(medicalOwner(studentId), placeOf(itemId, studentId), sealed)
        return text ? [JSON.parse(text) as Item] : []
      })
      const isOfDay = (itsDay: DayId | null) => dayId === null || itsDay === null || itsDay === dayId
      return {
        studentId,
        answers: items.flatMap((item) =>
          item.kind === 'answers' && isOfDay(item.dayId)
            ? [{ dayId: item.dayId, setId: item.setId, answers: item.answers, givenAt: item.givenAt }]
            : [],
        ),
        notes: items.flatMap((item) => (item.kind === 'note' && isOfDay(item.note.dayId) ? [item.note] : [])),
      }
    },
  }
}
