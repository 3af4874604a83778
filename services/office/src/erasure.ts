import type { StudentId } from '@musterbook/vocabulary/ids'
import type { Office } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Erasure } from '@musterbook/vocabulary/records'
import { localDate } from './civil-date.ts'
import type { Desk } from './desk.ts'
import type { Registers, StudentState } from './enrolment.ts'
import { photoShelf } from './photos.ts'
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
      discard(desk, [studentId])
      return { studentId }
    },
  }
}

function erasureOf(studentId: StudentId, { erasure, erased }: StudentState): Erasure | null {
  return erasure && { studentId, because: erasure.because, askedBy: erasure.askedBy, askedAt: erasure.askedAt, erased }
}

/** The keys first: from then on the rows are noise, wherever copies of them lie. */
function discard(desk: Desk, studentIds: readonly StudentId[]): void {
  desk.keys.discardOwn(studentIds.flatMap(ownersOf))
  studentShelf(desk).forget(studentIds)
  photoShelf(desk).forget(studentIds)
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
  if (erased.length > 0) discard(desk, erased)
}
