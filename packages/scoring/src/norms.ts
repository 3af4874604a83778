import type { NormGroup as RegisteredGroup } from '@musterbook/vocabulary/people'

/** Whose norms apply, as registered for that purpose; a table that makes no difference says `any`. */
export type NormSex = RegisteredGroup['sex']

/** One row of a table: whoever reaches this value does better than this percentage. */
export interface NormPoint {
  percentile: number
  value: number
}

/** A group of a table, its ages completed years and both inclusive; `ageTo` null is open. Best row first. */
export interface NormGroup {
  sex: NormSex | 'any'
  ageFrom: number
  ageTo: number | null
  points: readonly NormPoint[]
  /** What the source prints beyond its rows, as printed; it has no number there. */
  tails?: { above: string; below: string }
}

/**
 * A norm table as a site may adopt it. Values are in the score unit of its station, so that they are compared as they
 * stand and nothing is converted at the edge of a row.
 */
export interface NormTable {
  id: string
  edition: string
  /** The station that it belongs to: 'skinfold', 'agility', 'sitAndReach', 'benchPress', 'run', or a site's own. */
  test: string
  source: string
  population: string
  /** An invented table says so wherever its numbers stand. */
  invented: boolean
  unit: string
  betterIs: 'higher' | 'lower'
  /** `step`: the highest row that is met, equality meets. `linear`: between neighbouring rows, in the value. */
  lookup: 'step' | 'linear'
  /** What to do for an age that no group covers. Nothing is ever extrapolated. */
  outsideAges: 'noNorm' | 'nearestGroup'
  groups: readonly NormGroup[]
  /** Where the soles lie on the box that it was made with. */
  footLineMm?: number
  timing?: 'hand' | 'electronic'
  /** How it was measured, where that decides what may be compared: course, machine, box. */
  method?: string
  note?: string
  adoption?: Adoption
}

/** Nothing is in force until two people adopted it. The checksum is over the table without this. */
interface Adoption {
  adopters: readonly [string, string]
  adoptedOn: string
  checksum: string
}

/** What the checksum of an adoption covers: the table as it was offered. */
export function normTableContent(table: NormTable): Omit<NormTable, 'adoption'> {
  const { adoption: _, ...content } = table
  return content
}

/** Where a value stands in a group. `percentile` is null where the table has no number for it. */
export interface Placing {
  percentile: number | null
  /** '70th', 'below 10th', 'no norm'. */
  label: string
  row: NormPoint | null
  tableId: string
  edition: string
  group: NormGroup | null
}

/** The group of this person, or undefined: then there is no norm, which is not a bad one. */
export function normGroup<Group extends Ages>(
  table: { groups: readonly Group[]; outsideAges: NormTable['outsideAges'] },
  person: { sex: NormSex; ageYears: number },
): Group | undefined {
  const groups = table.groups.filter((group) => group.sex === person.sex || group.sex === 'any')
  const covering = groups.find((group) => yearsOutside(group, person.ageYears) === 0)
  if (covering || table.outsideAges === 'noNorm') return covering
  const [first, ...rest] = groups
  return rest.reduce<Group | undefined>(
    (kept, next) => (kept && yearsOutside(next, person.ageYears) < yearsOutside(kept, person.ageYears) ? next : kept),
    first,
  )
}

type Ages = Pick<NormGroup, 'sex' | 'ageFrom' | 'ageTo'>

const yearsOutside = ({ ageFrom, ageTo }: Ages, ageYears: number): number =>
  ageYears < ageFrom ? ageFrom - ageYears : ageTo !== null && ageYears > ageTo ? ageYears - ageTo : 0

/** Looks the value up in the table's own unit. Worse than the last row has no number: 'below 10th'. */
export function percentileOf(value: number, table: NormTable, group: NormGroup | undefined): Placing {
  const place = { tableId: table.id, edition: table.edition, group: group ?? null }
  const last = group?.points.at(-1)
  if (!group || !last) return { ...place, percentile: null, label: 'no norm', row: null }
  const row = stepRow(value, group.points, table.betterIs)
  if (!row) return { ...place, percentile: null, label: `below ${ordinal(last.percentile)}`, row: null }
  if (table.lookup === 'step') return { ...place, percentile: row.percentile, label: ordinal(row.percentile), row }
  const percentile = linear(value, row, group.points)
  const best = group.points[0]?.percentile
  if (percentile === null) return { ...place, percentile, label: `${ordinal(best ?? 0)} or better`, row }
  return { ...place, percentile, label: ordinal(Math.floor(percentile)), row }
}

/** The highest row that is met or beaten; of equal values, the higher percentile. */
function stepRow(value: number, points: readonly NormPoint[], betterIs: 'higher' | 'lower'): NormPoint | null {
  const met = points.filter((point) => (betterIs === 'higher' ? value >= point.value : value <= point.value))
  return met.reduce<NormPoint | null>((best, point) => (best && best.percentile >= point.percentile ? best : point), null)
}

/** Between the row that is met and the next better one. Beyond the best row there is no number; on a flat stretch the row decides. */
function linear(value: number, row: NormPoint, points: readonly NormPoint[]): number | null {
  if (value === row.value) return row.percentile
  const better = points.filter((point) => point.percentile > row.percentile)
  const [first, ...rest] = better
  if (!first) return null
  const next = rest.reduce((nearest, point) => (point.percentile < nearest.percentile ? point : nearest), first)
  return row.percentile + ((next.percentile - row.percentile) * (value - row.value)) / (next.value - row.value)
}

/** 1st, 2nd, 3rd, 11th, 70th. */
export function ordinal(number: number): string {
  const tens = number % 100
  const ending = tens >= 11 && tens <= 13 ? 'th' : number % 10 === 1 ? 'st' : number % 10 === 2 ? 'nd' : number % 10 === 3 ? 'rd' : 'th'
  return `${number}${ending}`
}

/** Why this table cannot be adopted; none when it can. */
export function normTableProblems(table: NormTable): string[] {
  return table.groups.flatMap((group, index) => [
    ...pointProblems(group, table.betterIs).map((problem) => `${sayGroup(group)}: ${problem}`),
    ...table.groups
      .slice(index + 1)
      .filter((other) => overlaps(group, other))
      .map((other) => `${sayGroup(group)} and ${sayGroup(other)} overlap`),
  ])
}

/** 'M30–39', 'W60+', 'any 18–29'. */
export const sayGroup = ({ sex, ageFrom, ageTo }: Ages): string =>
  `${sex}${sex === 'any' ? ' ' : ''}${ageTo === null ? `${ageFrom}+` : `${ageFrom}–${ageTo}`}`

function pointProblems({ points, ageFrom, ageTo }: NormGroup, betterIs: 'higher' | 'lower'): string[] {
  const isInOrder = points.every(({ percentile, value }, index) => {
    const before = points[index - 1]
    return !before || (percentile < before.percentile && (betterIs === 'higher' ? value <= before.value : value >= before.value))
  })
  return [
    ...(points.length > 0 ? [] : ['no rows']),
    ...(isInOrder ? [] : ['rows must stand from the best percentile to the worst, and values with them']),
    ...(points.every(({ percentile }) => percentile > 0 && percentile < 100) ? [] : ['a percentile lies between 0 and 100']),
    ...(points.every(({ value }) => Number.isFinite(value)) ? [] : ['a value is not a number']),
    ...(ageTo === null || ageFrom <= ageTo ? [] : ['the ages are the wrong way round']),
  ]
}

function overlaps(one: NormGroup, other: NormGroup): boolean {
  const sameSex = one.sex === other.sex || one.sex === 'any' || other.sex === 'any'
  return sameSex && one.ageFrom <= (other.ageTo ?? Infinity) && other.ageFrom <= (one.ageTo ?? Infinity)
}
