import {
  coolsDown,
  crosses,
  drive,
  expected,
  gun,
  kilograms,
  mira,
  opened,
  reach,
  reads,
  ready,
  seconds,
  tells,
  tries,
  type Drive,
  type Step,
} from '@musterbook/day/controls'
import { emptyDay, type Day } from '@musterbook/day/day'
import type { DayEntry } from '@musterbook/day/evolve'
import { digest } from '@musterbook/evidence/canonical'
import type { Draft, Ledger } from '@musterbook/ledger/ledger'
import type { DayId } from '@musterbook/vocabulary/ids'
import type { DayViews } from './rows.ts'

/** Days as entries of a ledger, and small views of them, so that a test says only what matters to it. Invented data. */
export function driven(dayId: string, students: readonly string[], ...steps: Step[]): Drive {
  const day = drive(emptyDay(dayId as DayId))
  for (const step of [opened(students.map((bib) => expected(bib))), ...steps]) step(day)
  return day
}

export const draftOf = (entry: DayEntry): Draft => ({
  meta: { ...entry.meta, command: 'any', bodyDigest: digest(entry.meta.commandId), seenVersion: 0 },
  recordedAt: entry.recordedAt,
  events: entry.events as Draft['events'],
})

/** Appends entries in their order, and seals where they say so. */
export async function write(ledger: Ledger, entries: readonly DayEntry[]): Promise<void> {
  for (const entry of entries) {
    // What came after the seal carries it; the tests' day does not know its hash.
    const answer = await ledger.append(entry.stream, entry.version - 1, draftOf(entry))
    if (!('appended' in answer)) throw new Error(`${entry.stream} ${entry.version}: ${JSON.stringify(answer)}`)
    if (entry.events.some((event) => event.type === 'daySealed')) await ledger.seal(entry.stream, await ledger.head(entry.stream))
  }
}

const queueing = (bib: string, stationId: string): Step[] =>
  (['joinQueue', 'callUp'] as const).map((act) => tells(act, mira, { studentId: `s${bib}`, stationId }))

/** Three small views: the day, a board, and one row a student. */
export const smallViews = (revision = 1, changes: DayViews = {}): DayViews => ({
  day: { revision: 1, keys: () => ['all'], of: (day: Day) => ({ dayId: day.dayId, students: day.students.size }) },
  board: {
    revision,
    keys: () => ['all'],
    of: (day: Day) => ({
      revision,
      here: [...day.students.values()].filter((student) => student.checkedInAt !== null).map((student) => student.studentId),
      holds: [...day.holds.keys()],
    }),
  },
  record: {
    revision: 1,
    keys: (day: Day) => [...day.students.keys()],
    of: (day: Day, key: string) => ({ key, bib: day.students.get(key as never)?.bib ?? null }),
  },
  ...changes,
})

/** Tries until `holds` says yes; fails after five seconds with what was said last. */
export async function eventually<T>(ask: () => Promise<T> | T, holds: (answer: T) => boolean): Promise<T> {
  const until = Date.now() + 5_000
  for (;;) {
    const answer = await ask()
    if (holds(answer)) return answer
    if (Date.now() > until) throw new Error(`it never came true; last: ${JSON.stringify(answer)}`)
    await new Promise((resolve) => setTimeout(resolve, 5))
  }
}

/** A day of 40 students with some 2,700 entries: queues, tries, a run in waves, cool-downs. */
export function wholeDay(dayId: string): Drive {
  const bibs = Array.from({ length: 40 }, (_, index) => String(101 + index))
  const steps: Step[] = [reads(24), ready(...bibs)]
  const stations = [
    ['agility', (number: number) => seconds(1700 + 10 * number), 2],
    ['sitAndReach', (number: number) => reach(300 + number), 3],
    ['benchPress', (number: number) => kilograms(400 + 25 * number), 6],
  ] as const
  for (const bib of bibs) {
    for (const [stationId, value, tried] of stations) {
      for (let number = 1; number <= tried; number++) {
        steps.push(...queueing(bib, stationId), tries(bib, stationId, `${stationId}-${bib}-${number}`, value(number)))
      }
    }
  }
  for (let wave = 0; wave < 3; wave++) {
    const runners = bibs.filter((_, index) => index % 3 === wave)
    steps.push(reads(25), gun(`w${wave}`, runners))
    for (let lap = 1; lap <= 6; lap++) {
      runners.forEach((bib, index) =>
        steps.push(crosses(`w${wave}`, bib, `${2 * lap}:${String(index % 50).padStart(2, '0')}.0`, lap === 6 ? 'finish' : 'lap')),
      )
    }
    steps.push(...runners.map(coolsDown))
  }
  return driven(dayId, bibs, ...steps)
}
