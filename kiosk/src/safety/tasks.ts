import { readingAge } from '@musterbook/heat/hold-policy'
import type { SafetyView } from '@musterbook/day/views/safety'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { mustHear, type Contact } from './roll-call.ts'

export interface Task {
  key: string
  says: string
  /** Where it is done. */
  at: 'reading' | 'holds' | 'heard' | 'people'
  urgent: boolean
}

interface Asked {
  safety: SafetyView
  now: number
  contacts: readonly Contact[]
  nameOf: (personId: string) => string
}

/** A reading is asked for this long before the last one expires. */
const soonMs = 5 * 60_000

/** What waits for the safety officer, gravest first. Each closes only by its act. */
export function tasksOf(asked: Asked): Task[] {
  return [...stopTasks(asked), ...holdTasks(asked), ...readingTasks(asked)]
}

function stopTasks({ safety }: Asked): Task[] {
  return safety.stops.flatMap((stop): Task[] => {
    const answers = stop.answers.map(({ answer }) => answer)
    const task = { key: `stop ${stop.studentId}`, at: 'people' as const, urgent: true }
    const bib = stop.bib ?? '?'
    if (answers.includes('arrived')) return []
    if (answers.length === 0) return [{ ...task, says: words.safety.task.stop(bib, stop.zone ?? '') }]
    return [{ ...task, says: words.safety.task.arrive(bib) }]
  })
}

function holdTasks({ safety, contacts, nameOf }: Asked): Task[] {
  return safety.holds
    .filter((hold) => !hold.lifted)
    .flatMap((hold): Task[] => {
      const silent = mustHear(hold, safety, contacts).filter(({ state }) => state !== 'heard')
      const count = safety.headcounts.find(({ zoneId, at }) => (hold.zoneId === null || zoneId === hold.zoneId) && at >= hold.since)
      const zone = hold.zoneId === null ? words.safety.task.everywhere : hold.zone
      const bibOf = (id: string) => Object.entries(safety.bibs).find(([, studentId]) => studentId === id)?.[0] ?? id
      const task = (key: string, says: string, at: Task['at'] = 'holds') => ({ key: `${key} ${hold.holdId}`, says, at, urgent: true })
      return [
        ...(hold.dispositionDue > 0 ? [task('disposition', words.safety.task.disposition(hold.dispositionDue, zone))] : []),
        ...(silent.length > 0 ? [task('silent', words.safety.task.notHeard(silent.map(({ name }) => name).join(', ')), 'heard')] : []),
        ...(hold.underWay.length > 0 && !count ? [task('headcount', words.safety.task.headcount(zone), 'people')] : []),
        ...(count && count.missing.length > 0
          ? [
              task(
                'missing',
                words.safety.task.missing(count.missing.map((id) => words.common.bib(bibOf(id))).join(', '), count.zone),
                'people',
              ),
            ]
          : []),
        ...(hold.proposal ? [task('confirm', words.safety.task.confirm(nameOf(hold.proposal.by)))] : []),
      ]
    })
}

function readingTasks({ safety, now }: Asked): Task[] {
  if (!safety.policy) return []
  const outdoor = safety.readings.filter((reading) => safety.zones.find((zone) => zone.zoneId === reading.zoneId)?.outdoor)
  const age = readingAge(outdoor, safety.policy, now)
  const task = { key: 'reading', at: 'reading' as const, urgent: true }
  if (age.state === 'none') return [{ ...task, says: words.safety.task.readingNone }]
  if (!('reading' in age)) return []
  if (age.state === 'overdue') return [{ ...task, says: words.safety.task.readingOverdue(shortDuration(age.ageMs)) }]
  const left = age.reading.validUntil - now
  return left < soonMs ? [{ ...task, urgent: false, says: words.safety.task.readingSoon(shortDuration(left)) }] : []
}
