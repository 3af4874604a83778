import { attemptUnderWay, called, openReviews, shape, type Day, type Student } from '../day.ts'
import { grant, refuse, type Asked, type Permission } from '../decision.ts'

/** Closes the day: everybody accounted for, no hold open, nothing undecided but with a stated reason. */
export function sealDay({ body }: Asked<'sealDay'>, day: Day): Permission {
  const loose = [...day.students.values()].filter(isLoose)
  if (loose.length > 0)
    return refuse('notFinished', {
      count: loose.length,
      who: loose
        .slice(0, 8)
        .map((student) => `#${called(student)}`)
        .join(', '),
    })
  if ([...day.holds.values()].some((hold) => !hold.lifted && !hold.disposed && hold.underWay.length > 0)) return refuse('holdsOpen')
  const open = openReviews(day).length
  if (open > 0 && !body.acceptOpenReviews) return refuse('reviewsOpen', { count: open })
  return grant({ type: 'daySealed', openReviews: open, acceptOpenReviews: body.acceptOpenReviews })
}

/** Not yet absent, in an attempt, not cooled down, or referred and without an answer. */
export const isLoose = (student: Student): boolean =>
  shape(student).presence === 'expected' ||
  attemptUnderWay(student) !== undefined ||
  shape(student).coolDown === 'due' ||
  student.referrals.some((referral) => !referral.answered)

export function reopen({ body, by }: Asked<'reopen'>, day: Day): Permission {
  if (!day.sealed) return refuse('notSealed')
  if (!by.countersigned) return refuse('secondPersonMissing')
  if (by.countersigned.personId === by.personId) return refuse('secondPersonSame')
  return grant({ type: 'reopened', reason: body.reason, countersigned: { personId: by.countersigned.personId } })
}
