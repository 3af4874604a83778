import { type Category, categoryOf } from './categories.ts'
import { meetsStandard, type MinimumStandard, type StandardOutcome } from './minimum-standard.ts'
import { normGroup, type NormSex, type NormTable, percentileOf, type Placing, sayGroup } from './norms.ts'
import type { Step } from './working.ts'

/** What of a station's protocol decides which norms may be held against its result. */
export interface ScoredProtocol {
  protocolId: string
  version: number
  betterIs: 'higher' | 'lower'
  timing?: 'hand' | 'electronic'
  /** The rules of its kind; only a foot-line is looked for. */
  details?: object
}

/** The station's own result: rounded once already, in its score unit, with the lines that led there. */
export interface StationResult {
  amount: number
  unit: string
  working: readonly Step[]
  /** What a reader must know beside the number: outside the equation's ages, an unusual sum. */
  warnings?: readonly string[]
}

/** Why a table is not held against a result although it is there. */
export type NotComparable = 'unitDiffers' | 'directionDiffers' | 'footLineDiffers' | 'timingDiffers'

/** Result, percentile and standard, apart; and how each was got. */
export interface Score {
  protocolId: string
  protocolVersion: number
  amount: number
  unit: string
  placing: Placing
  category: string | null
  standard: StandardOutcome | null
  notComparable: readonly NotComparable[]
  warnings: readonly string[]
  working: readonly Step[]
}

/**
 * Places a result in its norm group and holds it against the site's own minimum, saying every step.
 *
 * @param person norm group as registered, and completed years on the day's first station (see `ageOn`)
 * @param rules the tables, categories and standard that the day pinned; each may be absent
 */
export function scoreStation(
  protocol: ScoredProtocol,
  result: StationResult,
  person: { sex: NormSex; ageYears: number },
  rules: { table?: NormTable; categories?: readonly Category[]; standard?: MinimumStandard },
): Score {
  const { table, categories, standard } = rules
  const notComparable = table ? differences(protocol, result, table) : []
  const placing = placingOf(result, person, notComparable.length === 0 ? table : undefined)
  const belowRow = placing.percentile === null ? placing.group?.points.at(-1)?.percentile : undefined
  const outcome = standard
    ? meetsStandard(standard, { amount: result.amount, unit: result.unit, betterIs: protocol.betterIs, placing }, person)
    : null
  return {
    protocolId: protocol.protocolId,
    protocolVersion: protocol.version,
    amount: result.amount,
    unit: result.unit,
    placing,
    category: categories ? categoryOf({ percentile: placing.percentile, ...(belowRow !== undefined && { belowRow }) }, categories) : null,
    standard: outcome,
    notComparable,
    warnings: result.warnings ?? [],
    working: [
      ...result.working,
      ...notComparable.map((why): Step => ({
        step: 'warning',
        rule: `table ${table?.id}`,
        from: 'how it was measured',
        gives: why,
        sources: [],
      })),
      ...(placing.group && table ? [groupStep(person, placing), lookUpStep(result, table, placing)] : []),
      ...(standard && outcome ? [standardStep(standard, placing, outcome)] : []),
    ],
  }
}

/** A table made on another box, by another clock or in another unit says nothing about this result. */
function differences(protocol: ScoredProtocol, result: StationResult, table: NormTable): NotComparable[] {
  return [
    ...(table.unit === result.unit ? [] : ['unitDiffers' as const]),
    ...(table.betterIs === protocol.betterIs ? [] : ['directionDiffers' as const]),
    // A foot-line that is not stated is not the same foot-line.
    ...(table.footLineMm === footLineOf(protocol) ? [] : ['footLineDiffers' as const]),
    ...(table.timing === undefined || table.timing === protocol.timing ? [] : ['timingDiffers' as const]),
  ]
}

const footLineOf = ({ details }: ScoredProtocol): unknown => (details && 'footLineMm' in details ? details.footLineMm : undefined)

function placingOf(result: StationResult, person: { sex: NormSex; ageYears: number }, table: NormTable | undefined): Placing {
  if (!table) return { percentile: null, label: 'no norm', row: null, tableId: '', edition: '', group: null }
  return percentileOf(result.amount, table, normGroup(table, person))
}

const groupStep = (person: { sex: NormSex; ageYears: number }, { group, tableId }: Placing): Step => ({
  step: 'group',
  rule: `group of table ${tableId} for completed years on the day of the test`,
  from: `${person.sex}, ${person.ageYears}`,
  gives: group ? sayGroup(group) : 'no norm',
  sources: [],
})

const lookUpStep = (result: StationResult, table: NormTable, placing: Placing): Step => ({
  step: 'lookedUp',
  rule: table.lookup === 'step' ? 'highest row met, equality meets' : 'linear between neighbouring rows',
  from: `${result.amount} ${result.unit}${placing.row ? `, row ${placing.row.percentile} at ${placing.row.value}` : ''}`,
  gives: `${placing.label}, table ${table.id}, edition ${table.edition}${table.invented ? ' (invented)' : ''}`,
  sources: [],
})

const standardStep = (standard: MinimumStandard, placing: Placing, outcome: StandardOutcome): Step => ({
  step: 'standard',
  rule: `minimum ${standard.id}, edition ${standard.edition}`,
  from: placing.label,
  gives: outcome,
  sources: [],
})
