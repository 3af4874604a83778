import type { Attempt, Day } from '@musterbook/day/day'
import { limitsOfAgreement, mean, technicalError } from '@musterbook/scoring/reliability'
import { partsOf, type ScoreUnit } from '@musterbook/stations/units'
import type { PersonId } from '@musterbook/vocabulary/ids'

/** How far two people agree who read the same things at one station, in the unit that people say. */
export interface AgreementLine {
  test: string
  /** 's', 'cm', 'mm' … */
  sign: string
  first: string
  second: string
  /** null: too few students to be shown, and so is everything that was worked out from them. */
  shown: {
    students: number
    pairs: number
    /** Second minus first. */
    bias: number
    lower: number
    upper: number
    technicalError: number
  } | null
}

/** One thing that two people read: a try, a fold's site, a crossing. */
interface Pair {
  studentId: string
  raters: readonly [string, string]
  values: readonly [number, number]
  unit: ScoreUnit
}

/** Each two people who read the same things, station by station. Fewer than `least` students are not shown. */
export function agreements(day: Day, studentIds: ReadonlySet<string>, least: number): AgreementLine[] {
  const students = [...day.students.values()].filter(({ studentId }) => studentIds.has(studentId))
  return (day.opened?.rules.stations ?? []).flatMap(({ stationId, protocol }) => {
    const attempts = students.flatMap((student) => student.attempts.filter((attempt) => attempt.stationId === stationId))
    const groups = grouped(attempts.flatMap(pairsOf), ({ raters, unit }) => [...raters, unit].join(' '))
    return [...groups.values()].map((pairs) => lineOf(protocol.name, pairs, least))
  })
}

function lineOf(test: string, pairs: readonly Pair[], least: number): AgreementLine {
  const [{ raters, unit }] = pairs as [Pair]
  const { per, sign } = partsOf(unit)
  const students = new Set(pairs.map(({ studentId }) => studentId)).size
  const line = { test, sign, first: raters[0], second: raters[1] }
  if (students < Math.max(least, 2)) return { ...line, shown: null }
  const [first, second] = [pairs.map(({ values }) => values[0] / per), pairs.map(({ values }) => values[1] / per)]
  const { bias, lower, upper } = limitsOfAgreement(first, second)
  return { ...line, shown: { students, pairs: pairs.length, bias, lower, upper, technicalError: technicalError(first, second) } }
}

/** In the order of their ids, so that a difference has one sign whoever was first at the tablet. */
function paired(studentId: string, unit: ScoreUnit, one: [string, number], other: [string, number]): Pair {
  const [[first, was], [second, is]] = one[0] < other[0] ? [one, other] : [other, one]
  return { studentId, raters: [first, second], values: [was, is], unit }
}

const pairsOf = (attempt: Attempt): Pair[] => [...tryPairs(attempt), ...foldPairs(attempt), ...crossingPairs(attempt)]

interface Rated {
  personId: PersonId
  observation: Attempt['observations'][number]
}
/** The first reading of each of the first two people: a person who read twice agrees with nobody by that. */
function twoRaters({ observations }: Attempt): [Rated, Rated] | undefined {
  const first = new Map<PersonId, Rated>()
  for (const observation of observations) {
    const { personId } = observation.told
    if (personId && observation.event.outcome === 'good' && !first.has(personId)) first.set(personId, { personId, observation })
  }
  const [one, other] = first.values()
  return one && other && [one, other]
}

/** Two watches, two tapes: the values as they were read. */
function tryPairs(attempt: Attempt): Pair[] {
  const raters = twoRaters(attempt)
  if (!raters) return []
  const [one, other] = raters
  const [was, is] = [one.observation.event.value, other.observation.event.value]
  if (!was || !is || was.unit !== is.unit) return []
  return [paired(attempt.studentId, was.unit as ScoreUnit, [one.personId, was.amount], [other.personId, is.amount])]
}

/** Two skinfold raters: the mean of what each read at a site, site by site. */
function foldPairs(attempt: Attempt): Pair[] {
  const raters = twoRaters(attempt)
  if (!raters) return []
  const [one, other] = raters
  const means = ({ observation }: Rated) =>
    new Map(
      [...grouped(observation.event.folds, ({ site }) => site)].map(([site, read]) => [
        site,
        mean(read.map((fold) => fold.halfMillimetres)),
      ]),
    )
  const [ofOne, ofOther] = [means(one), means(other)]
  return [...ofOne].flatMap(([site, value]) => {
    const read = ofOther.get(site)
    return read === undefined ? [] : [paired(attempt.studentId, 'halfMillimetres', [one.personId, value], [other.personId, read])]
  })
}

/** Two lap scorers: a second witness of a crossing, beside the nearest tap that counts of another person. */
function crossingPairs({ studentId, taps }: Attempt): Pair[] {
  const counted = taps.filter(({ ignored, inferred }) => ignored === null && !inferred)
  return taps.flatMap((tap) => {
    const { personId } = tap.told
    if (tap.ignored !== 'secondWitness' || !personId) return []
    const apart = (one: typeof tap) => Math.abs(one.elapsedMs - tap.elapsedMs)
    const [nearest] = counted
      .filter((one) => one.told.personId !== null && one.told.personId !== personId)
      .sort((one, other) => apart(one) - apart(other))
    return nearest
      ? [paired(studentId, 'milliseconds', [nearest.told.personId as string, nearest.elapsedMs], [personId, tap.elapsedMs])]
      : []
  })
}

function grouped<T>(all: readonly T[], keyOf: (one: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const one of all) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one])
  return groups
}
