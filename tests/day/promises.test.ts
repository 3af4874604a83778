import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { evolve } from '@musterbook/day/evolve'
import { emptyDay, type Day } from '@musterbook/day/day'
import { dayViews } from '@musterbook/day/views'
import { observations } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'
import { DayEvent } from '@musterbook/vocabulary/events'
import { rules } from '@musterbook/vocabulary/refusals'
import { dayId, type Drive } from '@musterbook/day/controls'
import { happenings, live } from './random-day.ts'
import * as promises from './promises.ts'
import type { Step } from './promises.ts'

/** More of them when somebody has the night for it: `RANDOM_DAYS=5000`. */
const runs = Number(process.env['RANDOM_DAYS'] ?? 80)

/** Lives random days and looks at each entry as it comes. */
function everywhere(name: string, promised: (step: Step) => string[], numRuns = runs): void {
  test(
    name,
    () => {
      fc.assert(
        fc.property(happenings(), (day) => {
          let before = emptyDay(dayId)
          live(day, (driven, told) => {
            const entries = driven.entries.slice(-1)
            const flaws = promised({
              before,
              after: driven.day,
              told,
              events: entries.flatMap((entry) => entry.events as readonly DayEvent[]),
            })
            if (flaws.length > 0) throw new Error(flaws.join('; '))
            before = driven.day
          })
        }),
        { numRuns },
      )
    },
    20_000 + numRuns * 500,
  )
}

describe('on random days, after each entry', () => {
  everywhere('S1: no station starts before a clearance that covers it and what its protocol names', promises.clearedAndPrepared)
  everywhere('S1, S2, S5, S6: what a device out of contact let start waits when something stood against it then', promises.lateStartsWait)
  everywhere(
    'S2: no outdoor station starts under a hold, on a stale reading or out of contact; a gun not to be ordered waits',
    promises.noOutdoorStartUnheeded,
  )
  everywhere('S3: a hold lists everyone under way in its zone, and each gets an outcome', promises.holdsListEveryone)
  everywhere('S4: a hold is lifted by two different people on the evidence of its kind', promises.liftsNeedTwoAndEvidence)
  everywhere('S4: a hold stands until it is lifted', promises.holdsStayUntilLifted)
  everywhere('S5: stops and holds are always taken, and only a screener restores', promises.stopsHold)
  everywhere('S6: however a run ends the cool-down is due, and nothing starts and nobody leaves before', promises.coolDownAfterEveryRun)
  everywhere('S8: only valid official tries within the number count, one at a time', promises.onlyValidTriesCount)
  everywhere('S9: nothing that was observed is edited or goes away', promises.nothingIsEdited)
  everywhere('S9: what is final is corrected by two', promises.finalCorrectionsNameTwo)
  everywhere('S10: behind the seal no observation moves a result', promises.sealedResultsMoveByPeopleAlone)

  everywhere('a refusal is written down, by a rule that can be said, with who and what is next', ({ told, events }) => {
    if (!told?.refused) return []
    const [only, ...more] = events.filter((event) => event.type !== 'afterOpened')
    const { rule, says, next, who } = told.refused
    const isSaid = rule in rules && [says, next, who].every((words) => words.length > 0 && !words.includes('undefined'))
    return isSaid && only?.type === 'actRefused' && only.rule === rule && more.length === 0 ? [] : [`${rule} is not said: ${says}`]
  })

  everywhere(
    'an observation is never refused, nor is what a device out of contact let start, and every command leaves an event',
    ({ told, before }) => {
      if (!told) return []
      const { act, envelope } = told.command
      const isObservation = (observations as readonly string[]).includes(act)
      const hasHappened = envelope.decidedOnDevice && (act === 'startAttempt' || act === 'startWave')
      const isRefused = told.refused !== undefined && before.opened !== null
      return [
        ...(told.events.length === 0 ? [`${act} left nothing`] : []),
        ...((isObservation || hasHappened) && isRefused ? [`${act} was refused: ${told.refused?.rule}`] : []),
      ]
    },
  )

  everywhere('every event is one that the vocabulary knows, exactly as it stands', ({ events }) =>
    events.flatMap((event) => {
      const parsed = DayEvent.safeParse(event)
      if (!parsed.success) return [`${event.type}: ${parsed.error.issues[0]?.path.join('.')} ${parsed.error.issues[0]?.message}`]
      return JSON.stringify(parsed.data) === JSON.stringify(event) || sameKeys(parsed.data, event)
        ? []
        : [`${event.type} changes when it is read`]
    }),
  )

  everywhere('every command that is told is one that the vocabulary knows', ({ told }) => {
    if (!told) return []
    const parsed = acts[told.command.act].body.safeParse(told.command.body)
    return parsed.success ? [] : [`${told.command.act}: ${parsed.error.issues[0]?.path.join('.')} ${parsed.error.issues[0]?.message}`]
  })

  everywhere(
    'every picture of the day can be drawn at every version of it',
    ({ after }) => {
      for (const view of Object.values(dayViews)) for (const key of view.keys(after)) view.of(after, key)
      return []
    },
    25,
  )
})

const sameKeys = (one: object, other: object): boolean => {
  const sorted = (value: unknown): unknown =>
    Array.isArray(value)
      ? value.map(sorted)
      : typeof value === 'object' && value !== null
        ? Object.fromEntries(
            Object.entries(value)
              .sort(([a], [b]) => (a < b ? -1 : 1))
              .map(([key, inner]) => [key, sorted(inner)]),
          )
        : value
  return JSON.stringify(sorted(one)) === JSON.stringify(sorted(other))
}

/** What a reader can see of a day, without machine objects. */
export const pictures = (day: Day) =>
  JSON.stringify(Object.entries(dayViews).map(([name, view]) => [name, view.keys(day).map((key) => view.of(day, key))])) +
  JSON.stringify([...day.students.values()].map((student) => [student.machine.value, student.machine.context]))

const fold = (entries: Drive['entries'], from: Day = emptyDay(dayId)): Day => entries.reduce(evolve, from)

test('folding the same entries twice, in two pieces, or from their text gives the same day', () => {
  fc.assert(
    fc.property(happenings(), fc.nat(), (day, cut) => {
      // Drawn as they come: what is kept between two pictures must not make a later one differ.
      const driven = live(day, (then) => void pictures(then.day))
      const { entries } = driven
      const at = cut % (entries.length + 1)
      const whole = pictures(driven.day)
      expect(pictures(fold(entries))).toBe(whole)
      expect(pictures(fold(entries.slice(at), fold(entries.slice(0, at))))).toBe(whole)
      expect(pictures(fold(JSON.parse(JSON.stringify(entries)) as Drive['entries']))).toBe(whole)
    }),
    { numRuns: 25 },
  )
})

test('folding changes no day that was given out before', () => {
  fc.assert(
    fc.property(happenings(60), (day) => {
      const days: [Day, string][] = []
      live(day, ({ day: now }) => void (days.length % 7 === 0 ? days.push([now, pictures(now)]) : days.push([now, ''])))
      for (const [then, picture] of days) if (picture) expect(pictures(then)).toBe(picture)
    }),
    { numRuns: 15 },
  )
})

test('random days reach what they are to reach: starts, refusals, holds lifted, runs ended, seals, corrections', () => {
  const seen = new Map<string, number>()
  const count = (name: string) => seen.set(name, (seen.get(name) ?? 0) + 1)
  for (const day of fc.sample(happenings(), { numRuns: 400, seed: 1 })) {
    live(day, ({ entries }, told) => {
      for (const event of entries.at(-1)?.events ?? []) count(event.type)
      if (told?.refused) count(`no: ${told.refused.rule}`)
    })
  }
  for (const type of [
    'attemptStarted',
    'resultRecorded',
    'waveStarted',
    'finishRecorded',
    'holdRaised',
    'holdDisposed',
    'holdLifted',
    'attemptInterrupted',
    'coolDownConfirmed',
    'studentStopped',
    'studentRestored',
    'corrected',
    'reviewRuled',
    'daySealed',
    'reopened',
  ])
    expect([type, seen.get(type) ?? 0]).toSatisfy(([, times]) => (times as number) > 2)
  for (const rule of [
    'notCleared',
    'stopped',
    'holdInForce',
    'coolDownDue',
    'triesUsed',
    'otherUnderWay',
    'siteUnread',
    'dispositionDue',
    'secondPersonSame',
  ])
    expect([rule, seen.get(`no: ${rule}`) ?? 0]).toSatisfy(([, times]) => (times as number) > 0)
})
