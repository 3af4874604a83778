import type { StudentId } from '@musterbook/vocabulary/ids'
import type { Desk } from './desk.ts'
import type { Registers } from './enrolment.ts'
import { photoShelf } from './photos.ts'
import type { Store } from './store.ts'
import { medicalOwner, recordOwner, type StudentRow, studentShelf } from './student-shelf.ts'

/**
 * A folder from before records could be erased holds students and photos in the open, and words and medical items under the office’s own
 * key. When the office opens, all of it is sealed under the keys of its student. Each store moves whole or not at all, so a crash in
 * between is made good by opening again.
 */
export async function moveOlderFolder(desk: Desk, { classes }: Registers): Promise<void> {
  const { people, medical } = desk
  if (!holds(people, 'student') && !holds(medical, 'text')) return
  const owners = await ownersOfWords(desk)
  const enrolled = await Promise.all((await classes.ids()).map(async (id) => [...(await classes.read(id)).state.students.keys()]))
  // Medical items first: whose they are is told by trying students, and those are certain to stand here still.
  if (holds(medical, 'text')) moveMedical(desk, new Set([...enrolled.flat(), ...olderIds(people)]), owners)
  if (holds(people, 'student')) movePeople(desk, owners)
}

const holds = (store: Store, table: string): boolean =>
  store.prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?").get(table) !== undefined

const olderIds = (people: Store): StudentId[] =>
  holds(people, 'student') ? (people.prepare('SELECT studentId FROM student').pluck().all() as StudentId[]) : []

function movePeople(desk: Desk, owners: ReadonlyMap<string, string>): void {
  const { people } = desk
  const rows = people
    .prepare('SELECT studentId, code, familyName, givenName, birthDate, face, photoDigest FROM student')
    .all() as StudentRow[]
  const shelf = studentShelf(desk)
  const faces = photoShelf(desk)
  const photo = people.prepare('SELECT mediaType, bytes FROM photo WHERE photoDigest = ?')
  people
    .transaction(() => {
      shelf.keep(rows)
      for (const { studentId, photoDigest } of rows) {
        const kept = photoDigest && (photo.get(photoDigest) as { mediaType: string; bytes: Buffer } | undefined)
        if (kept) faces.keep(studentId, { photoDigest, mediaType: kept.mediaType, buffer: kept.bytes })
      }
      moveWords(desk, people, (textId) => owned(owners.get(textId), recordOwner))
      people.exec('DROP TABLE student; DROP TABLE photo; DROP TABLE text')
    })
    .immediate()
  compact(people)
}

function moveMedical(desk: Desk, studentIds: ReadonlySet<StudentId>, owners: ReadonlyMap<string, string>): void {
  const { medical, keys } = desk
  const ofWhom = medical.prepare('SELECT number, itemId, sealed FROM item WHERE whose = ?')
  const put = medical.prepare('UPDATE item SET sealed = ? WHERE number = ?')
  keys.makeOwn([...studentIds].map(medicalOwner))
  medical
    .transaction(() => {
      for (const studentId of studentIds) {
        const items = ofWhom.all(keys.mark('medicalIndex', `whose ${studentId}`)) as { number: number; itemId: string; sealed: Buffer }[]
        for (const { number, itemId, sealed } of items) {
          const place = `${itemId} of ${studentId}`
          put.run(keys.sealFor(medicalOwner(studentId), place, keys.open('medical', place, sealed)), number)
        }
      }
      moveWords(desk, medical, (textId) => owned(owners.get(textId), medicalOwner))
      medical.exec('DROP TABLE text')
    })
    .immediate()
  compact(medical)
}

const owned = (studentId: string | undefined, ownerOf: (studentId: string) => string): string | null =>
  studentId === undefined ? null : ownerOf(studentId)

/** Words of nobody whom the office knows stay the office’s own. */
function moveWords({ keys }: Desk, store: Store, ownerOf: (textId: string) => string | null): void {
  const keep = store.prepare('INSERT INTO words (textId, owner, sealed) VALUES (?, ?, ?)')
  for (const { textId, sealed } of store.prepare('SELECT textId, sealed FROM text').all() as { textId: string; sealed: Buffer }[]) {
    const owner = ownerOf(textId)
    if (owner === null || !keys.hasOwn(owner)) keep.run(textId, null, sealed)
    else keep.run(textId, owner, keys.sealFor(owner, textId, keys.open('text', textId, sealed)))
  }
}

/** Names are to linger in no free page, nor in the log beside the file. */
function compact(store: Store): void {
  store.exec('VACUUM')
  store.pragma('wal_checkpoint(TRUNCATE)')
}

/** Of whom each sealed text is, as the events say that hold it. A case is about one student, whom its first event names. */
async function ownersOfWords({ ledger }: Desk): Promise<Map<string, string>> {
  const owners = new Map<string, string>()
  for (const { stream } of await ledger.streams('')) {
    let ofCase: string | undefined
    for await (const { events } of ledger.read(stream, 0)) {
      for (const event of events) {
        const named = typeof event['studentId'] === 'string' ? event['studentId'] : undefined
        if (stream.startsWith('case/')) ofCase ??= named
        const studentId = named ?? ofCase
        if (studentId !== undefined) for (const textId of textsIn(event)) owners.set(textId, studentId)
      }
    }
  }
  return owners
}

function textsIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return []
  const { textId } = value as { textId?: unknown }
  return typeof textId === 'string' ? [textId] : Object.values(value).flatMap(textsIn)
}
