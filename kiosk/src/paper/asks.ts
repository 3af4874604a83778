import { readRun } from '@musterbook/stations/laps'
import { needsThird } from '@musterbook/stations/skinfold'
import type { ProtocolOf } from '@musterbook/stations/protocol'
import type { FoldReading } from '@musterbook/vocabulary/attempt'
import { askAbout } from '../station/asks.ts'
import { elapsedIn } from '../station/form.ts'
import { raceTime } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** What is asked about folds before they are kept: unlikely ones, and readings that the sheet lacks. */
export function askAboutFolds(protocol: ProtocolOf<'skinfold'>, sites: readonly string[], folds: readonly FoldReading[]): string[] {
  const { foldMin: min, foldMax: max, repeatRule } = protocol.details
  const rule = { unit: 'halfMillimetres' as const, resolution: 1, askJump: protocol.askJump, plausible: { min, max } }
  return sites.flatMap((site) => {
    const read = folds.filter((fold) => fold.site === site).map((fold) => fold.halfMillimetres)
    const [first, second, third] = read
    const name = words.station.sites[site] ?? site
    const lacks = first === undefined || second === undefined ? 2 : third === undefined && needsThird(repeatRule, first, second) ? 3 : 0
    return [
      ...read.flatMap((one, index) => askAbout(one, rule, read.slice(0, index)) ?? []),
      ...(lacks > read.length ? [words.paper.asks.foldMissing(name, read.length, lacks)] : []),
    ]
  })
}

/** The same questions as at the line, of a row that is there all at once. */
export function askAboutLaps(protocol: ProtocolOf<'run'>, laps: readonly number[], isFinish: boolean): string[] {
  const taps = laps.map((elapsedMs, index) => ({ tapId: String(index), elapsedMs }))
  const finish = isFinish ? (taps.at(-1) ?? null) : null
  const { questions, ignored } = readRun(finish ? taps.slice(0, -1) : taps, finish, protocol.details)
  const { asks } = words.paper
  const last = laps.at(-1)
  return [
    ...ignored.map(({ elapsedMs }) => asks.tooSoon(race(elapsedMs))),
    ...questions.map((question) =>
      question.kind === 'finishDisagreesWithLaps'
        ? asks.lapsWritten(laps.length, protocol.details.track.laps)
        : question.kind === 'possibleMissedCrossing'
          ? asks.longLap(question.lap, race(question.lapMs), race(question.ownPaceMs))
          : asks.shortLap(question.lap, race(question.lapMs)),
    ),
    ...(finish && last !== undefined ? [askAbout(elapsedIn(last, protocol.unit), protocol, []) ?? []].flat() : []),
  ]
}

const race = (ms: number): string => raceTime(Math.floor(ms / 10))

/** A time of day that has not been yet is a slip, or a clock that is wrong. */
export const askAboutTime = (at: number, bandMs: number, now: number, clock: string): string[] =>
  at - bandMs > now ? [words.paper.asks.notYet(clock)] : []
