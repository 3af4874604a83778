import { median } from './median.ts'
import type { DensityEquation, RepeatRule, SkinfoldSite } from './protocol.ts'
import { roundRatio } from './rounding.ts'
import { sayValue } from './units.ts'
import type { Step } from './working.ts'

/** One reading of one fold, whole half-millimetres. Integers: 12.0 against 13.0 mm is a question of tenths, not of binary fractions. */
export interface FoldReading {
  observationId: string
  site: SkinfoldSite
  halfMillimetres: number
}

/** What a site comes to, in quarter-millimetres, since the mean of two half-millimetre readings may lie between them. */
export type SiteValue = { state: 'needsAnother' } | { state: 'settled'; quarterMillimetres: number; rule: string }

/** The sum of all sites, or the site that is read next. */
export type Circuit =
  { state: 'reading'; next: SkinfoldSite; reading: number } | { state: 'complete'; sumQuarterMillimetres: number; working: readonly Step[] }

const threeSites: Record<'M' | 'W', readonly SkinfoldSite[]> = {
  M: ['chest', 'abdomen', 'thigh'],
  W: ['triceps', 'suprailiac', 'thigh'],
}
const sevenSites: readonly SkinfoldSite[] = ['chest', 'midaxillary', 'triceps', 'subscapular', 'abdomen', 'suprailiac', 'thigh']
const fourSites: readonly SkinfoldSite[] = ['biceps', 'triceps', 'subscapular', 'suprailiac']

/** Which folds an equation takes, in the order in which they are read. */
export function sitesOf(equation: DensityEquation, sex: 'M' | 'W'): readonly SkinfoldSite[] {
  if (equation === 'jacksonPollock3') return threeSites[sex]
  return equation === 'jacksonPollock7' ? sevenSites : fourSites
}

/**
 * Do these two readings of one site ask for another? Whole half-millimetres.
 * NSCA: unless within 10 percent (the handbook does not say of which: the smaller here). ACSM, from memory: unless within
 * 1 or 2 mm, as adopted. ISAK, from memory: when they differ by more than 5 percent, of the smaller here.
 */
export function needsThird(rule: RepeatRule, first: number, second: number): boolean {
  const smaller = Math.min(first, second)
  const apart = Math.abs(first - second)
  if (rule.name === 'acsm') return apart > 2 * rule.limitMm
  return rule.name === 'nsca' ? 10 * apart > smaller : 20 * apart > smaller
}

/** What readings of one site come to: two that agree, averaged; else one more. ISAK takes the median of three. */
export function siteValue(rule: RepeatRule, halfMillimetres: readonly number[]): SiteValue {
  if (rule.name === 'isak' && halfMillimetres.length >= 3) {
    return { state: 'settled', quarterMillimetres: 2 * median(halfMillimetres.slice(0, 3)), rule: 'isak, median of three' }
  }
  const pair = closestPair(halfMillimetres)
  if (!pair || needsThird(rule, ...pair)) return { state: 'needsAnother' }
  const sum = pair[0] + pair[1]
  if (rule.name !== 'nsca') return { state: 'settled', quarterMillimetres: sum, rule: `${rule.name}, mean of two` }
  const toHalf = roundRatio(sum, 1, { rule: 'nearest', to: 2 })
  return { state: 'settled', quarterMillimetres: toHalf, rule: 'nsca, mean of two to the nearest half-millimetre, halves up' }
}

/** Where the tester is: every site once, then every site again, then those that still disagree. */
export function circuit(sites: readonly SkinfoldSite[], rule: RepeatRule, readings: readonly FoldReading[]): Circuit {
  const of = (site: SkinfoldSite) => readings.filter((one) => one.site === site)
  const open = sites.filter((site) => siteValue(rule, amounts(of(site))).state === 'needsAnother')
  const fewest = Math.min(...open.map((site) => of(site).length))
  const next = open.find((site) => of(site).length === fewest)
  if (next) return { state: 'reading', next, reading: fewest + 1 }
  const working = sites.map((site) => siteStep(site, rule, of(site)))
  const sumQuarterMillimetres = sites.map((site) => settled(rule, of(site)).quarterMillimetres).reduce((sum, value) => sum + value, 0)
  return {
    state: 'complete',
    sumQuarterMillimetres,
    working: [
      ...working,
      {
        step: 'derived',
        rule: `sum of ${sites.length} sites`,
        from: sites.join(' + '),
        gives: sayValue(sumQuarterMillimetres, 'quarterMillimetres'),
        sources: [],
      },
    ],
  }
}

/** The pair of readings nearest to each other; of pairs equally near, the later. */
function closestPair(values: readonly number[]): [number, number] | undefined {
  const pairs = values.flatMap((first, index) => values.slice(index + 1).map((second): [number, number] => [first, second]))
  return pairs.reduce<[number, number] | undefined>((kept, next) => (kept && apart(kept) < apart(next) ? kept : next), undefined)
}

const apart = ([first, second]: [number, number]): number => Math.abs(first - second)
const amounts = (readings: readonly FoldReading[]): number[] => readings.map((one) => one.halfMillimetres)

function settled(rule: RepeatRule, readings: readonly FoldReading[]): { quarterMillimetres: number; rule: string } {
  const value = siteValue(rule, amounts(readings))
  if (value.state === 'needsAnother') throw new Error('a site that still needs a reading has no value')
  return value
}

function siteStep(site: SkinfoldSite, rule: RepeatRule, readings: readonly FoldReading[]): Step {
  const value = settled(rule, readings)
  return {
    step: 'counts',
    rule: `${site}: ${value.rule}`,
    from: readings.map((one) => sayValue(one.halfMillimetres, 'halfMillimetres')).join(', '),
    gives: sayValue(value.quarterMillimetres, 'quarterMillimetres'),
    sources: readings.map((one) => one.observationId),
  }
}
