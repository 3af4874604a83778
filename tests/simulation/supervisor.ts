import { attemptsUnderWay, openReviews, shape, type Attempt, type Review, type Student } from '@musterbook/day/day'
import { words } from '@musterbook/day/controls'
import { countersignedBy } from './people.ts'
import { withoutOutcome, type Turn } from './staff.ts'

/** One picture of the day, and everything that waits for somebody's decision. */
export function supervisorTurn(turn: Turn): void {
  const { device, luck, no, day, students, isClosing, isImpatient } = turn
  for (const hold of day.holds.values()) {
    if (hold.proposal && !hold.lifted && luck.is(0.5)) device.press(`${no}-lift-${hold.holdId}`, 'confirmLift', { holdId: hold.holdId })
  }
  for (const review of openReviews(day).slice(0, 3)) if (luck.is(isClosing ? 0.5 : 0.25)) rules(turn, review)
  if (luck.is(0.03)) corrects(turn)
  const somebody = luck.among(students)
  if (somebody && luck.is(0.008)) {
    const stationIds = [luck.one('agility', 'sitAndReach', 'run')]
    device.press(`${no}-retest`, 'grantRetest', {
      entitlementId: `e-${no}`,
      studentId: somebody.studentId,
      stationIds,
      until: '2027-05-25',
      reason: words,
    })
  }
  if (day.sealed) return afterTheSeal(turn)
  if (isImpatient && luck.is(0.3)) device.press(`${no}-seal-early`, 'sealDay', { acceptOpenReviews: words })
  if (isImpatient && somebody) device.press(`${no}-sign-off`, 'signOffStudent', { studentId: somebody.studentId })
  if (isClosing) closes(turn)
}

function rules({ device, luck, no }: Turn, { reviewId, because }: Review): void {
  const ruling = because === 'clearanceConflict' ? 'settled' : luck.one('counts', 'counts', 'doesNotCount', 'settled', 'retest')
  device.press(`${no}-rule-${reviewId}`, 'rule', { reviewId, ruling, reason: words })
}

function corrects({ device, luck, no, students, day }: Turn): void {
  const student = luck.among(students.filter((one) => one.attempts.some((attempt) => attempt.status === 'recorded')))
  const attempt = luck.among(student?.attempts.filter((one) => one.status === 'recorded') ?? [])
  if (!student || !attempt) return
  const isFinal = student.signedOffAt !== null || day.sealed !== null
  const by = isFinal && luck.is(0.8) ? countersignedBy(device.by, luck.is(0.9) ? 'office-1' : 'supervisor-1') : device.by
  const { studentId } = student
  const seenRevision = luck.is(0.95) ? attempt.revision : 0
  const change = changeOf(luck, no, attempt, luck.among(students) ?? student)
  device.press(
    `${no}-correct`,
    'correct',
    { correctionId: `x-${no}`, studentId, attemptId: attempt.attemptId, change, reason: words, seenRevision },
    { by },
  )
}

function changeOf(luck: Turn['luck'], no: number, attempt: Attempt, other: Student): object {
  const value = attempt.observations[0]?.event.value
  const kind = luck.one('value', 'value', 'void', 'official', 'reassign')
  if (kind === 'value' && value) return { kind, value: { ...value, amount: value.amount + luck.one(-5, 5) } }
  if (kind === 'official') return { kind, official: !attempt.official }
  if (kind === 'reassign') return { kind, toStudentId: other.studentId, newAttemptId: `moved-${no}` }
  return { kind: 'void' }
}

/** Everybody accounted for, then the seal. */
function closes({ device, luck, no, day, students }: Turn): void {
  for (const hold of withoutOutcome(day))
    device.press(`${no}-outcome-${hold.holdId}`, 'disposeHold', { holdId: hold.holdId, disposition: 'stopAndWalkIn' })
  let presses = 0
  const few = () => presses++ < 6
  for (const student of students) {
    const { studentId } = student
    const state = shape(student)
    for (const attempt of attemptsUnderWay(student)) {
      if (few()) device.press(`${no}-ends-${studentId}`, 'recordResult', endsWithout(no, attempt))
    }
    if (state.coolDown === 'due' && few()) device.press(`${no}-excuse-${studentId}`, 'excuseCoolDown', { studentId, reason: words })
    if (state.presence === 'expected' && luck.is(0.2) && few()) device.press(`${no}-absent-${studentId}`, 'markAbsent', { studentId })
    if (state.presence === 'present' && state.coolDown !== 'due' && few())
      device.press(`${no}-off-${studentId}`, 'signOffStudent', { studentId })
  }
  if (presses < 3 && luck.is(0.6)) device.press(`${no}-seal`, 'sealDay', { acceptOpenReviews: luck.is(0.8) ? words : null })
}

const endsWithout = (no: number, { attemptId, studentId, stationId }: Attempt) => ({
  observationId: `o-${no}-${studentId}`,
  attemptId,
  studentId,
  stationId,
  outcome: stationId === 'run' ? 'didNotFinish' : 'foul',
  value: null,
  folds: [],
  fault: null,
  equipmentIds: [],
  keptUnusual: false,
  official: true,
  photoDigest: null,
  fromPaper: null,
})

function afterTheSeal({ device, luck, no, day }: Turn): void {
  if (day.reopened) return void (luck.is(0.2) && device.press(`${no}-seal-again`, 'sealDay', { acceptOpenReviews: words }))
  if (luck.is(0.02))
    device.press(`${no}-reopen`, 'reopen', { reason: words }, { by: luck.is(0.8) ? countersignedBy(device.by, 'office-1') : device.by })
}
