import type { Day } from '@musterbook/day/day'
import type { Decision, Now } from '@musterbook/day/decision'
import type { DayEntry } from '@musterbook/day/evolve'
import { emptyHead, placeAfter } from '@musterbook/ledger/entry-text'
import type { Draft, Entry, Ledger } from '@musterbook/ledger/ledger'
import type { Command } from '@musterbook/vocabulary/command'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { Rule } from '@musterbook/vocabulary/refusals'
import type { Bends } from './world.ts'

type Decide = (command: Command, day: Day, now: Now) => Decision
type Evolve = (day: Day, entry: DayEntry) => Day

/** A house with one bug in it, which breaks one promise. */
export interface Planted {
  readonly promise: string
  readonly decide?: (real: Decide) => Decide
  readonly evolve?: (real: Evolve) => Evolve
  readonly siteEntry?: (draft: Draft, day: Day) => Draft
  readonly bends?: Bends
}

/** Whoever is refused by this rule may all the same. */
const lets =
  (...rules: Rule[]) =>
  (real: Decide): Decide =>
  (command, day, now) => {
    const decided = real(command, day, now)
    const rule = decided.refused?.rule === 'runnerMayNotStart' ? decided.refused.params['rule'] : decided.refused?.rule
    const events = decided.refused && rules.some((one) => one === rule) ? grantedAnyway(command, day) : []
    return events.length > 0 ? { events } : decided
  }

function grantedAnyway({ act, body, by }: Command, day: Day): DayEvent[] {
  const asked = body as Record<string, unknown>
  const start = {
    official: true,
    load: null,
    equipmentIds: [],
    observerId: null,
    earlyBecause: null,
    waveId: null,
    readingId: null,
    reviewId: null,
  }
  const { waveId, stationId, official } = asked
  const events: Partial<Record<Command['act'], () => object[]>> = {
    startAttempt: () => [{ ...start, type: 'attemptStarted', ...asked, number: 1 }],
    startWave: () => {
      const runners = asked['runners'] as { studentId: string; attemptId: string }[]
      const studentIds = runners.map((runner) => runner.studentId)
      return [
        { type: 'waveStarted', waveId, stationId, official, studentIds, underHold: null },
        ...runners.map((runner) => ({ ...start, type: 'attemptStarted', ...runner, stationId, official, waveId, number: 1 })),
      ]
    },
    confirmLift: () => {
      const proposal = day.holds.get(asked['holdId'] as never)?.proposal
      return [
        { type: 'holdLifted', holdId: asked['holdId'], proposedBy: proposal?.by ?? by.personId, readingId: proposal?.readingId ?? null },
      ]
    },
    proposeLift: () => [{ type: 'liftProposed', ...asked }],
    restore: () => [{ type: 'studentRestored', ...asked }],
    signOffStudent: () => [{ type: 'studentSignedOff', ...asked }],
    sealDay: () => [{ type: 'daySealed', openReviews: 0, ...asked }],
    correct: () => [{ type: 'corrected', ...asked, countersigned: null }],
  }
  return (events[act]?.() ?? []) as DayEvent[]
}

/** What is decided, with other events. */
const says =
  (change: (events: readonly DayEvent[], command: Command, day: Day) => readonly DayEvent[]) =>
  (real: Decide): Decide =>
  (command, day, now) => {
    const decided = real(command, day, now)
    const events = change(decided.events, command, day)
    return events.length > 0 ? { ...decided, events } : decided
  }

/** A start out of contact is taken as if nothing stood against it. */
const asksNobody = says((events, command) =>
  command.envelope.decidedOnDevice && (command.act === 'startAttempt' || command.act === 'startWave')
    ? events
        .filter((event) => event.type !== 'reviewOpened')
        .map((event) => ('reviewId' in event ? ({ ...event, reviewId: null } as DayEvent) : event))
    : events,
)

const ledgerThat = (change: (ledger: Ledger) => Partial<Ledger>): Bends => ({
  ledger: (ledger) => ({
    read: (stream, after) => ledger.read(stream, after),
    head: (stream) => ledger.head(stream),
    streams: (prefix) => ledger.streams(prefix),
    find: (stream, commandId) => ledger.find(stream, commandId),
    append: (stream, expected, draft) => ledger.append(stream, expected, draft),
    seal: (stream, at) => ledger.seal(stream, at),
    follow: (prefix, seen, signal) => ledger.follow(prefix, seen, signal),
    close: () => ledger.close(),
    ...change(ledger),
  }),
})

/** Every so many appends to a day. */
function every(times: number): (stream: string) => boolean {
  let count = 0
  return (stream) => stream.startsWith('day/') && ++count % times === 0
}

const readsOtherwise = (change: (entries: Entry[]) => Entry[]) =>
  ledgerThat((ledger) => ({
    read: async function* (stream, after) {
      const entries: Entry[] = []
      for await (const entry of ledger.read(stream, 0)) entries.push(entry)
      yield* change(entries).filter((entry) => entry.version > after)
    },
  }))

export const planted: Record<string, () => Planted> = {
  'clearance is not asked': () => ({ promise: 'S1', decide: lets('notCleared') }),
  'the warm-up is not asked': () => ({ promise: 'S1', decide: lets('warmUpMissing') }),
  'the body mass is not asked': () => ({ promise: 'S1', decide: lets('bodyMassMissing') }),
  'a start told afterwards waits for nobody': () => ({ promise: 'S1', decide: asksNobody }),

  'a hold is ignored at the gun': () => ({ promise: 'S2', decide: lets('holdInForce') }),
  'a reading never goes stale': () => ({ promise: 'S2', decide: lets('readingStale', 'noReading') }),
  'a device that hears nothing starts all the same': () => ({ promise: 'S2', decide: lets('outOfContact') }),
  'a day that has not read its site starts all the same': () => ({
    promise: 'S2',
    decide: lets('siteUnread'),
    // Nothing is told of the site, and what is asked for is mostly answered by one who lags behind.
    bends: {
      ...ledgerThat((ledger) => ({
        follow: (prefix, seen, signal) => ledger.follow(prefix === 'site/' ? 'nothing/' : prefix, seen, signal),
      })),
      staleRead: 0.8,
    },
  }),

  'a hold lists nobody': () => ({
    promise: 'S3',
    decide: says((events) => events.map((event) => (event.type === 'holdRaised' ? { ...event, underWay: [] } : event))),
  }),
  'a hold leaves the last one out': () => ({
    promise: 'S3',
    decide: says((events) =>
      events.map((event) => (event.type === 'holdRaised' ? { ...event, underWay: event.underWay.slice(0, -1) } : event)),
    ),
  }),
  'who is stopped by a hold gets no retest': () => ({
    promise: 'S3',
    decide: says((events, { act }) => (act === 'disposeHold' ? events.filter((event) => event.type !== 'retestGranted') : events)),
  }),

  'software lifts a hold': () => ({
    promise: 'S4',
    siteEntry: (draft, day) => {
      const standing = [...day.holds.values()].find((hold) => !hold.lifted)
      const lift = { type: 'holdLifted', holdId: standing?.holdId, proposedBy: 'rashid', readingId: null }
      return standing ? { ...draft, events: [...draft.events, lift] } : draft
    },
  }),
  'one person lifts a hold': () => ({ promise: 'S4', decide: lets('secondPersonSame', 'liftNotProposed') }),
  'any reading lifts a hold': () => ({
    promise: 'S4',
    decide: lets(
      'dwellNotOver',
      'readingOlderThanHold',
      'notBelowLiftThreshold',
      'instrumentNotSettled',
      'lightningClock',
      'observationMissing',
      'stillCallsForHold',
      'reasonMissing',
    ),
  }),

  'a stopped student starts': () => ({ promise: 'S5', decide: lets('stopped') }),
  'anyone restores': () => ({ promise: 'S5', decide: lets('onlyScreener') }),
  'a stop leaves the try under way': () => ({
    promise: 'S5',
    decide: says((events, { act }) => (act === 'stopStudent' ? events.filter((event) => event.type !== 'attemptInterrupted') : events)),
  }),

  'the cool-down is skipped': () => ({ promise: 'S6', decide: lets('coolDownDue') }),
  'the day is sealed before everybody is in': () => ({ promise: 'S6', decide: lets('notFinished') }),
  'a run that was given up needs no cool-down': () => ({
    promise: 'S6',
    evolve: (real) => (day, entry) => {
      const next = real(day, entry)
      const ended = entry.events.find((event) => event.type === 'resultRecorded') as { studentId: string; outcome: string } | undefined
      const was = ended?.outcome === 'didNotFinish' ? day.students.get(ended.studentId as never) : undefined
      const now = next.students.get(ended?.studentId as never)
      // The record has the run, and the machine of the student's day never heard that it ended.
      return was && now ? { ...next, students: new Map(next.students).set(now.studentId, { ...now, machine: was.machine }) } : next
    },
  }),

  'an append is lost': () => {
    const isTurn = every(200)
    return {
      promise: 'S7',
      bends: ledgerThat((ledger) => ({
        append: async (stream, expected, draft) => {
          const head = await ledger.head(stream)
          if (head.version !== expected || !isTurn(stream)) return ledger.append(stream, expected, draft)
          return { appended: placeAfter(head.version > 0 ? head : emptyHead(stream), draft).entry, toldTwice: false }
        },
      })),
    }
  },
  'an append is doubled': () => {
    const isTurn = every(100)
    return {
      promise: 'S7',
      bends: ledgerThat((ledger) => ({
        append: async (stream, expected, draft) => {
          const answer = await ledger.append(stream, expected, draft)
          if ('appended' in answer && !answer.toldTwice && isTurn(stream)) {
            await ledger.append(stream, expected + 1, { ...draft, meta: { ...draft.meta, commandId: `${draft.meta.commandId}.again` } })
          }
          return answer
        },
      })),
    }
  },
  'an entry is changed after it was acknowledged': () => ({
    promise: 'S7',
    bends: readsOtherwise((entries) =>
      entries.map((entry) => (entry.version % 97 === 96 ? { ...entry, recordedAt: entry.recordedAt + 1 } : entry)),
    ),
  }),
  'the end of a stream is cut off': () => ({
    promise: 'S7',
    bends: readsOtherwise((entries) => (entries.length > 300 ? entries.slice(0, 300) : entries)),
  }),

  'extra tries count': () => ({
    promise: 'S8',
    decide: says((events) =>
      events
        .filter((event) => event.type !== 'reviewOpened' || (event.because !== 'beyondTries' && event.because !== 'noSuchAttempt'))
        .map((event) =>
          event.type === 'resultRecorded' ? { ...event, as: event.as === 'extra' ? ('result' as const) : event.as, reviewId: null } : event,
        ),
    ),
    evolve: (real) => (day, entry) => {
      const next = real(day, entry)
      const students = new Map(
        [...next.students].map(([id, student]) => [
          id,
          student === day.students.get(id)
            ? student
            : { ...student, attempts: student.attempts.map((one) => (one.number === 0 && one.official ? { ...one, number: 1 } : one)) },
        ]),
      )
      return { ...next, students }
    },
  }),
  'tries have no number': () => ({ promise: 'S8', decide: lets('triesUsed') }),
  'two attempts at once': () => ({ promise: 'S8', decide: lets('otherUnderWay', 'calledElsewhere') }),
  'what ran under a hold counts': () => ({
    promise: 'S8',
    decide: says((events) =>
      events
        .filter((event) => event.type !== 'reviewOpened' || event.because !== 'ranUnderHold')
        .map((event) =>
          (event.type === 'finishRecorded' || event.type === 'attemptStarted') && event.reviewId ? { ...event, reviewId: null } : event,
        ),
    ),
  }),

  'one person changes a final record': () => ({ promise: 'S9', decide: lets('secondPersonMissing', 'secondPersonSame') }),
  'a correction overwrites what was observed': () => ({
    promise: 'S9',
    evolve: (real) => (day, entry) => {
      const next = real(day, entry)
      const event = entry.events.find((one) => one.type === 'corrected') as
        { studentId: string; attemptId: string; change: { value?: unknown } } | undefined
      const student = next.students.get(event?.studentId as never)
      if (!event?.change.value || !student) return next
      const attempts = student.attempts.map((one) =>
        one.attemptId === event.attemptId
          ? {
              ...one,
              observations: one.observations.map((seen) => ({ ...seen, event: { ...seen.event, value: event.change.value as never } })),
            }
          : one,
      )
      return { ...next, students: new Map(next.students).set(student.studentId, { ...student, attempts }) }
    },
  }),

  'a sealed day goes on': () => {
    // The seal is taken for given, and the stream stays open.
    return {
      promise: 'S10',
      evolve: (real) => (day, entry) => {
        const next = real(day, entry)
        return next.sealed && !day.sealed ? { ...next, sealed: null } : next
      },
    }
  },
  'the ledger does not close a sealed stream': () => ({
    promise: 'S10',
    bends: ledgerThat(() => ({ seal: async (_, at) => ({ ...at, sealed: true }) })),
  }),
  'what comes late counts at once': () => ({
    promise: 'S10',
    decide: says((events) =>
      events.some((event) => event.type === 'reviewOpened' && event.because === 'lateAfterSeal')
        ? events
            .filter((event) => event.type !== 'reviewOpened')
            .map((event) => ('reviewId' in event ? ({ ...event, reviewId: null } as DayEvent) : event))
        : events,
    ),
  }),

  'the fold rolls dice': () => {
    let folded = 0
    return {
      promise: 'S11',
      evolve: (real) => (day, entry) => {
        const next = real(day, entry)
        if (++folded % 211 > 0) return next
        const [who] = next.students.values()
        if (!who) return next
        return { ...next, students: new Map(next.students).set(who.studentId, { ...who, late: !who.late }) }
      },
    }
  },
  'the fold hangs on the form of the text': () => ({
    promise: 'S11',
    evolve: (real) => {
      const seen = new WeakSet<object>()
      return (day, entry) => {
        const next = real(day, entry)
        const first = entry.events[0]
        // What was frozen by the ledger is folded otherwise than what was read back from its text.
        if (first?.type !== 'weighed' || !Object.isFrozen(first) || seen.has(entry)) return next
        const student = next.students.get((first as unknown as { studentId: string }).studentId as never)
        return student ? { ...next, students: new Map(next.students).set(student.studentId, { ...student, late: true }) } : next
      }
    },
  }),
}
