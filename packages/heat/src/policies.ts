/** One end of a band, in tenths of a degree of the table's unit, and whether a reading that stands on it belongs. */
export interface Bound {
  readonly tenths: number
  readonly included: boolean
}

/** Whom a row is for. The sources define acclimatised differently (3 weeks, 12 weeks, 7 to 14 days): the adopter says which. */
export type Population = 'everyone' | 'acclimatised' | 'unacclimatised'

export interface BandAdvice {
  readonly population: Population
  readonly says: string
  /** The source allows no training at all in this band for this population. */
  readonly stops: boolean
}

export interface HeatBand {
  /** As the source names it. */
  readonly id: string
  /** The colour word, where the source flies one. Never shown without the band's name. */
  readonly flag?: string
  /** Absent in the coolest band. */
  readonly from?: Bound
  /** Absent in the hottest band. */
  readonly to?: Bound
  readonly advice: readonly BandAdvice[]
}

/** What an outfit adds to the measured WBGT. A difference: it converts by 1.8 and is never moved by 32. */
export interface ClothingAddition {
  readonly id: string
  readonly name: string
  readonly tenths: number
  readonly unit: 'degC' | 'degF'
  /** Whom the source then reads the table for, whatever their own state. */
  readonly readAs?: Population
}

/** A published table: figures are facts, and none of it is in force before a site adopts it. */
export interface HeatTable {
  readonly id: string
  readonly edition: string
  readonly citation: string
  /** `publicDomain` may be offered for adoption; `askThePublisher` is carried to compare with and offered to nobody. */
  readonly terms: 'publicDomain' | 'askThePublisher' | 'invented'
  readonly unit: 'degC' | 'degF'
  readonly activity: 'training' | 'continuous'
  /** From the coolest to the hottest. A hole between two bands is the source's own, and the hotter one governs in it. */
  readonly bands: readonly HeatBand[]
  readonly clothing: readonly ClothingAddition[]
  /** Where prints of this table disagree, in words for whoever adopts it. */
  readonly disagreements: readonly string[]
}

/** What no source prints and each site decides. There is no default that nobody chose. */
export interface HoldRules {
  readonly population: Population
  /** Does an outdoor start need a fresh reading at all? */
  readonly readingsNeeded: boolean
  /** A hold is raised at this WBGT and above it (`included`), or above it only. */
  readonly raise: Bound
  /** A hold may be lifted under this WBGT; on it as well when `included`. Never above `raise`. */
  readonly lift: Bound
  /** The lifting reading is taken at least this long after the raise. */
  readonly dwellMinutes: number
  /** Settled readings in a row under `lift`, taken after the dwell. */
  readonly settledReadingsToLift: number
  /** A reading older than this no longer counts; exactly this old it still does. */
  readonly readingAgeMinutes: number
  /** A device that has not heard the ledger for longer starts nothing outdoors. */
  readonly contactAgeMinutes: number
  /** May a reading lift whose natural wet bulb the meter derived from humidity? */
  readonly derivedWetBulbMayLift: boolean
  /** Once raised, it stays for the session: no reading lifts it. */
  readonly latched: boolean
}

/** A table with the rules that a site adopted for its holds: pinned by a day when it opens. */
export interface HeatPolicy extends HeatTable, HoldRules {}

/** A policy of this table and these rules. Throws, naming each, when the two do not make sense together. */
export function policyOf(table: HeatTable, rules: HoldRules): HeatPolicy {
  const policy = { ...table, ...rules }
  const problems = policyProblems(policy)
  if (problems.length > 0) throw new RangeError(`${table.id}: ${problems.join('; ')}`)
  return policy
}

/** What an adopter must mend before this can be in force. */
export function policyProblems(policy: HeatPolicy): string[] {
  const { raise, lift } = policy
  const whole = { ...policy, raiseTenths: raise.tenths, liftTenths: lift.tenths }
  const counts = ['dwellMinutes', 'settledReadingsToLift', 'readingAgeMinutes', 'contactAgeMinutes', 'raiseTenths', 'liftTenths'] as const
  return [
    ...tableProblems(policy),
    ...counts.filter((name) => !Number.isSafeInteger(whole[name])).map((name) => `${name} is not a whole number`),
    ...(policy.dwellMinutes < 0 ? ['the dwell is below zero'] : []),
    ...(policy.settledReadingsToLift < 1 ? ['lifting takes at least one reading'] : []),
    ...(policy.readingAgeMinutes < 1 ? ['no reading would ever be fresh'] : []),
    ...(policy.contactAgeMinutes < 1 ? ['no device would ever be in contact'] : []),
    ...(lift.tenths > raise.tenths || (lift.tenths === raise.tenths && lift.included && raise.included)
      ? ['one reading would both raise and lift']
      : []),
  ]
}

/** What a second reader must look at: bands out of order, overlapping, or ends that are not tenths. */
export function tableProblems(table: HeatTable): string[] {
  const { bands } = table
  const problems = bands.length === 0 ? ['no band'] : []
  bands.forEach((band, index) => {
    const next = bands[index + 1]
    if ([band.from, band.to].some((end) => end && !Number.isSafeInteger(end.tenths))) problems.push(`${band.id} does not end on a tenth`)
    if (band.from && band.to && isAbove(band.from, band.to)) problems.push(`${band.id} ends before it begins`)
    if (index > 0 && !band.from) problems.push(`${band.id} has no lower end`)
    if (!next) return band.to && problems.push(`${band.id} is the hottest and has an upper end`)
    if (!band.to) return problems.push(`${band.id} has no upper end`)
    if (next.from && (next.from.tenths < band.to.tenths || (next.from.tenths === band.to.tenths && next.from.included && band.to.included)))
      problems.push(`${band.id} and ${next.id} overlap`)
  })
  if (bands[0]?.from) problems.push(`${bands[0].id} is the coolest and has a lower end`)
  return problems
}

const isAbove = (from: Bound, to: Bound) => from.tenths > to.tenths || (from.tenths === to.tenths && !(from.included && to.included))

/** Invented, for demonstrations and tests of behaviour. It stands in no handbook. */
export const demoPolicy: HeatPolicy = {
  id: 'HP-1',
  edition: 'invented, 1',
  citation: 'Invented for the Skarnvale Mountain Rescue Academy; no published source.',
  terms: 'invented',
  unit: 'degC',
  activity: 'training',
  bands: [
    { id: 'below 24.0', to: { tenths: 240, included: false }, advice: [{ population: 'everyone', says: 'Usual training.', stops: false }] },
    {
      id: '24.0 to 27.9',
      from: { tenths: 240, included: true },
      to: { tenths: 280, included: false },
      advice: [{ population: 'everyone', says: 'More rest and water; watch newcomers.', stops: false }],
    },
    {
      id: '28.0 and above',
      from: { tenths: 280, included: true },
      advice: [{ population: 'everyone', says: 'No outdoor station starts.', stops: true }],
    },
  ],
  clothing: [],
  disagreements: [],
  population: 'everyone',
  readingsNeeded: true,
  raise: { tenths: 280, included: true },
  lift: { tenths: 280, included: false },
  dwellMinutes: 15,
  settledReadingsToLift: 1,
  readingAgeMinutes: 30,
  contactAgeMinutes: 5,
  derivedWetBulbMayLift: false,
  latched: false,
}
