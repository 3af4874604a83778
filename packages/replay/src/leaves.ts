import type { Day } from '@musterbook/day/day'
import type { DayEntry } from '@musterbook/day/evolve'
import { recordView, type RecordView } from '@musterbook/day/views/record'
import { inclusionProof, rootOf, saltedLeafHash, verifyInclusion, type InclusionProof } from '@musterbook/evidence/merkle'
import { sealFault, type Seal, type SealStatement } from '@musterbook/evidence/seal'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import { events, fold, type Recorded } from './moments.ts'

/** One event as a leaf, or the part of it that is one student's: a start of twelve is twelve leaves, so that nobody's proof shows eleven others. */
export interface EventLeaf {
  stream: string
  version: number
  /** Which event of the entry. */
  place: number
  studentId: string | null
  recordedAt: number
  meta: DayEntry['meta']
  event: DayEvent
}

/** The salt of one leaf, secret until its proof is handed out: an unsalted sibling is guessed from a table of scores. */
export type SaltOf = (tree: 'events' | 'records', index: number) => string

/** Every leaf of some entries, in the order of the record. */
export function eventLeaves(recorded: Recorded): EventLeaf[] {
  return recorded.flatMap((entry) =>
    events(entry).flatMap((event, place) =>
      portions(event).map(({ studentId, part }) => ({
        stream: entry.stream,
        version: entry.version,
        place,
        studentId,
        recordedAt: entry.recordedAt,
        meta: entry.meta,
        event: part,
      })),
    ),
  )
}

/** The records as they stood when the day was sealed, one leaf a student, in the order of the roster. */
export const recordLeaves = (day: Day): RecordView[] => [...day.students.keys()].flatMap((studentId) => recordView(day, studentId) ?? [])

/**
 * What the site signs: of a sealed day, its own entries and the records as they stood at its seal; of what came after, those
 * entries and the records as they stand by now. `recorded` ends where the statement does.
 */
export function statementOf(
  dayId: DayId,
  recorded: Recorded,
  saltOf: SaltOf,
  head: { version: number; hash: string },
  sealedAt: number,
  which: 'day' | 'after' = 'day',
): SealStatement {
  const stream = `${which}/${dayId}`
  const hashes = treesOf(dayId, recorded, stream, saltOf)
  return {
    stream,
    version: head.version,
    hash: head.hash,
    events: { root: rootOf(hashes.events), size: hashes.events.length },
    records: { root: rootOf(hashes.records), size: hashes.records.length },
    sealedAt,
  }
}

/** What one student can hold in hand: their record and their events, each with its way up to the sealed root, and nobody else's. */
export interface StudentProof {
  form: 'musterbook proof 1'
  seal: Seal
  record: { value: RecordView; salt: string; proof: InclusionProof }
  events: { value: EventLeaf; salt: string; proof: InclusionProof }[]
}

export function proofOf(dayId: DayId, recorded: Recorded, saltOf: SaltOf, seal: Seal, studentId: string): StudentProof | null {
  const { stream } = seal.statement
  const hashes = treesOf(dayId, recorded, stream, saltOf)
  const records = recordLeaves(fold(dayId, recorded))
  const index = records.findIndex((record) => record.studentId === studentId)
  const value = records[index]
  if (!value) return null
  // What was ruled names the review and not the student: without it the score could not be computed again.
  const reviews = new Set(
    eventLeaves(recorded).flatMap(({ studentId: whose, event }) =>
      event.type === 'reviewOpened' && whose === studentId ? [event.reviewId] : [],
    ),
  )
  const decides = (event: DayEvent): boolean =>
    (event.type === 'reviewRuled' || event.type === 'reviewSettled') && reviews.has(event.reviewId)
  return {
    form: 'musterbook proof 1',
    seal,
    record: { value, salt: saltOf('records', index), proof: inclusionProof(hashes.records, index) },
    events: eventLeaves(entriesIn(recorded, stream)).flatMap((leaf, place) =>
      leaf.studentId === studentId || ofTheDay.has(leaf.event.type) || decides(leaf.event)
        ? [{ value: leaf, salt: saltOf('events', place), proof: inclusionProof(hashes.events, place) }]
        : [],
    ),
  }
}

/** Why a proof does not hold, each fault as a sentence; none when it does. `fingerprint`: from the printed day sheet. */
export function proofFaults(proof: StudentProof, fingerprint: string): string[] {
  const { statement } = proof.seal
  const seal = sealFault(proof.seal, fingerprint)
  const record =
    verifyInclusion(saltedLeafHash(proof.record.salt, proof.record.value), proof.record.proof, statement.records.root) &&
    proof.record.proof.size === statement.records.size
  const strays = proof.events.filter(
    ({ value, salt, proof: way }) =>
      way.size !== statement.events.size || !verifyInclusion(saltedLeafHash(salt, value), way, statement.events.root),
  )
  return [
    ...(seal ? [seal] : []),
    ...(record ? [] : ['the record is not the one that was sealed']),
    ...strays.map(({ value }) => `event ${value.event.type} of entry ${value.version} is not one that was sealed`),
  ]
}

/** What no score can be computed without, or what says where the day ended. */
const ofTheDay: ReadonlySet<DayEvent['type']> = new Set(['dayOpened', 'daySealed', 'afterOpened', 'reopened'])

const entriesIn = (recorded: Recorded, stream: string): Recorded => recorded.filter((entry) => entry.stream === stream)

function treesOf(dayId: DayId, recorded: Recorded, stream: string, saltOf: SaltOf): { events: string[]; records: string[] } {
  return {
    events: eventLeaves(entriesIn(recorded, stream)).map((leaf, index) => saltedLeafHash(saltOf('events', index), leaf)),
    records: recordLeaves(fold(dayId, recorded)).map((record, index) => saltedLeafHash(saltOf('records', index), record)),
  }
}

const another = 'anotherStudent' as StudentId

function portions(event: DayEvent): { studentId: string | null; part: DayEvent }[] {
  switch (event.type) {
    case 'waveStarted':
    case 'classBriefed':
    case 'holdDisposed':
    case 'seenAtHeadcount':
      return each(event.studentIds, (studentId) => ({ ...event, studentIds: [studentId] }), event)
    case 'holdRaised':
      return event.underWay.length === 0
        ? whole(event)
        : event.underWay.map((one) => ({ studentId: one.studentId, part: { ...event, underWay: [one] } }))
    case 'headcountTaken': {
      const all = [...event.present, ...event.missing]
      return each(
        all,
        (studentId) => ({
          ...event,
          present: event.present.filter((one) => one === studentId),
          missing: event.missing.filter((one) => one === studentId),
        }),
        event,
      )
    }
    case 'corrected':
      if (event.change.kind !== 'reassign') return [{ studentId: event.studentId, part: event }]
      // Each of the two sees that the try went or came, and not to or from whom.
      return [
        { studentId: event.studentId, part: { ...event, change: { ...event.change, toStudentId: another } } },
        { studentId: event.change.toStudentId, part: { ...event, studentId: another } },
      ]
    case 'reviewOpened':
      return [{ studentId: event.about.studentId, part: event }]
    default:
      return 'studentId' in event ? [{ studentId: event.studentId, part: event }] : whole(event)
  }
}

const whole = (event: DayEvent) => [{ studentId: null, part: event }]

function each<Id extends string>(
  ids: readonly Id[],
  part: (id: Id) => DayEvent,
  event: DayEvent,
): { studentId: string | null; part: DayEvent }[] {
  return ids.length === 0 ? whole(event) : ids.map((studentId) => ({ studentId, part: part(studentId) }))
}
