import type { DayEvent } from '@musterbook/vocabulary/events'
import type { StudentId } from '@musterbook/vocabulary/ids'
import type { Office } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Erasure } from '@musterbook/vocabulary/records'
import { localDate } from './civil-date.ts'
import type { Desk } from './desk.ts'
import type { Registers, StudentState } from './enrolment.ts'
import { evidenceShelf, photoShelf } from './photos.ts'
import { ownersOf, studentShelf } from './student-shelf.ts'

type Erasures = Pick<Office, 'erasures' | 'askErasure' | 'withdrawErasure' | 'confirmErasure'>
interface Needs {
  registers: Registers
  cases: Office['cases']
  timeZone(): Promise<string>
}

/**
 * The end of a record: the student’s own keys are discarded, so that names, photo, words and medical items open nowhere any more, in no
 * backup of the data either. The days stay as they are, chained and sealed: they know a pseudonym alone. Nothing is erased by itself.
 */
export function erasures(desk: Desk, { registers, cases, timeZone }: Needs): Erasures {
  /** A case that is open, that somebody holds, or whose papers are to be kept: it goes before any schedule. */
  const holding = async (studentId: StudentId) => {
    const today = localDate(desk.now(), await timeZone())
    return (await cases(null)).find(
      (one) => one.studentId === studentId && (one.deletionHeld || (one.keepUntil !== null && one.keepUntil >= today)),
    )
  }
  const held = async (studentId: StudentId) => {
    const one = await holding(studentId)
    return one && officeRefusal('erasureHeld', { kind: one.kind, received: one.receivedOn })
  }

  return {
    erasures: async () => {
      const all = await Promise.all(
        (await registers.students.ids()).map(async (id) => erasureOf(id as StudentId, (await registers.students.read(id)).state)),
      )
      return all.flatMap((one) => one ?? [])
    },
    askErasure: async ({ studentId, because }, told) => {
      const askedBy = told.by.personId
      if (!askedBy) return officeRefusal('personNeeded')
      const isKnown = studentShelf(desk).find(studentId) !== undefined
      const refused = await held(studentId)
      const written = await registers.students.write(studentId, 'askErasure', { studentId, because }, told, ({ erasure, erased }) => {
        if (erased) return officeRefusal('alreadyErased')
        if (refused) return refused
        if (!isKnown) return officeRefusal('noSuchStudent')
        if (erasure) return officeRefusal('erasureAskedAlready')
        return [{ type: 'erasureAsked', studentId, because, askedBy }]
      })
      return 'refused' in written ? written : { studentId }
    },
    withdrawErasure: async ({ studentId }, told) => {
      const written = await registers.students.write(studentId, 'withdrawErasure', { studentId }, told, ({ erasure, erased }) =>
        erasure && !erased ? [{ type: 'erasureWithdrawn', studentId }] : officeRefusal('erasureNotAsked'),
      )
      return 'refused' in written ? written : { studentId }
    },
    confirmErasure: async ({ studentId }, told) => {
      const confirmedBy = told.by.personId
      if (!confirmedBy) return officeRefusal('personNeeded')
      const refused = await held(studentId)
      const written = await registers.students.write(studentId, 'confirmErasure', { studentId }, told, ({ erasure, erased }) => {
        if (erased) return officeRefusal('alreadyErased')
        if (!erasure) return officeRefusal('erasureNotAsked')
        if (erasure.askedBy === confirmedBy) return officeRefusal('secondPersonSame')
        return refused ?? [{ type: 'recordErased', studentId, confirmedBy }]
      })
      if ('refused' in written) return written
      await discard(desk, registers.students, [studentId])
      return { studentId }
    },
  }
}

function erasureOf(studentId: StudentId, { erasure, erased }: StudentState): Erasure | null {
  return erasure && { studentId, because: erasure.because, askedBy: erasure.askedBy, askedAt: erasure.askedAt, erased }
}

/** The keys first: from then on the rows are noise, wherever copies of them lie. The student’s row goes last: a crash before it is finished. */
async function discard(desk: Desk, students: Registers['students'], studentIds: readonly StudentId[]): Promise<void> {
  desk.keys.discardOwn(studentIds.flatMap(ownersOf))
  photoShelf(desk).forget(studentIds)
  evidenceShelf(desk).forget(await picturesOfNobodyElse(desk, students, new Set(studentIds)))
  studentShelf(desk).forget(studentIds)
}

/** Pictures of displays and bars that stand beside readings of these students, unless somebody whose record stands has the same. */
async function picturesOfNobodyElse(desk: Desk, students: Registers['students'], gone: ReadonlySet<string>): Promise<string[]> {
  const own = [...(await pictureHolders(desk.ledger))].filter(([, holders]) => [...holders].some((studentId) => gone.has(studentId)))
  const isGone = async (studentId: string) => gone.has(studentId) || (await students.read(studentId)).state.erased !== null
  const free = await Promise.all(own.map(async ([, holders]) => (await Promise.all([...holders].map(isGone))).every(Boolean)))
  return own.flatMap(([photoDigest], index) => (free[index] ? [photoDigest] : []))
}

/** By whose readings each picture stands in the days: who was recorded, and to whom a try was reassigned. */
async function pictureHolders(ledger: Desk['ledger']): Promise<Map<string, Set<string>>> {
  const holders = new Map<string, Set<string>>()
  const ofAttempt = new Map<string, string[]>()
  const holds = (photoDigest: string, studentId: string) =>
    void holders.set(photoDigest, (holders.get(photoDigest) ?? new Set()).add(studentId))
  const days = [...(await ledger.streams('day/')), ...(await ledger.streams('after/'))]
  for (const { stream } of days)
    for await (const entry of ledger.read(stream, 0))
      for (const event of entry.events as readonly DayEvent[]) {
        if (event.type === 'resultRecorded' && event.photoDigest) {
          holds(event.photoDigest, event.studentId)
          ofAttempt.set(event.attemptId, [...(ofAttempt.get(event.attemptId) ?? []), event.photoDigest])
        }
        if (event.type === 'corrected' && event.change.kind === 'reassign')
          for (const photoDigest of ofAttempt.get(event.attemptId) ?? []) holds(photoDigest, event.change.toStudentId)
      }
  return holders
}

/**
 * What a crash left between the entry and the keys is finished. Throws with a sentence when a student’s key is missing whom nobody erased:
 * that is a lost file, and must not look like an erasure.
 */
export async function finishErasures(desk: Desk, { students }: Registers): Promise<void> {
  const left = studentShelf(desk).ids()
  const erased: StudentId[] = []
  for (const studentId of left) {
    if ((await students.read(studentId)).state.erased) erased.push(studentId)
    else if (!desk.keys.hasOwn(ownersOf(studentId)[0]))
      throw new Error(
        'the key ring beside the key file does not hold the keys of this data folder: names would be lost. Put the ring back that belongs to it.',
      )
  }
  if (erased.length > 0) await discard(desk, students, erased)
}
