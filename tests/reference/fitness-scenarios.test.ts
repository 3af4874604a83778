import { ageOn } from '@musterbook/scoring/age'
import { publishedCategories } from '@musterbook/scoring/categories'
import { demoNorms } from '@musterbook/scoring/demo-norms'
import { fatResult } from '@musterbook/scoring/fat-result'
import { normGroup, percentileOf, sayGroup } from '@musterbook/scoring/norms'
import { progress, publishedReliability, type Tested } from '@musterbook/scoring/progress'
import { scoreStation } from '@musterbook/scoring/score-station'
import { demoProtocol, validTries } from '@musterbook/stations/controls'
import { type Tap, readRun } from '@musterbook/stations/laps'
import { type BodyMass, officialResult } from '@musterbook/stations/official-result'
import type { Protocol } from '@musterbook/stations/protocol'
import { circuit, sitesOf } from '@musterbook/stations/skinfold'
import type { ValidTry } from '@musterbook/stations/best-of'
import { describe, expect, test } from 'vitest'

/* From what was read at a station to what stands on the sheet, by the demonstration's invented rules FX-1. */

const sunniva = { sex: 'W', ageYears: 24 } as const
const massOf = (hundredthsKg: number): BodyMass => ({ amount: hundredthsKg, unit: 'hundredthsKg', observationId: 'weigh-in' })

function score(protocol: Protocol, tries: readonly ValidTry[], person: { sex: 'M' | 'W'; ageYears: number }, bodyMass?: BodyMass) {
  const result = officialResult(protocol, tries, bodyMass)
  if ('missing' in result) throw new Error(`missing ${result.missing}`)
  const table = demoNorms.find((norms) => norms.test === protocol.protocolId)
  return scoreStation(protocol, result, person, { ...(table && { table }), categories: publishedCategories })
}

const elapsed = (time: string) => {
  const [minutes = 0, seconds = 0] = time.split(':').map(Number)
  return (60 * minutes + seconds) * 1000
}
const taps = (...times: string[]): Tap[] => times.map((time) => ({ tapId: time, elapsedMs: elapsed(time) }))

describe('a clean day', () => {
  test('bench 72 % stands at the 70th', () => {
    const bench = score(demoProtocol('loaded'), validTries('tenthsKg', 400, 450), sunniva, massOf(6240))
    expect([bench.amount, bench.placing.label]).toEqual([72, '70th'])
  })

  test('agility 18.7 stands at the 60th', () => {
    const agility = score(demoProtocol('timed'), validTries('hundredthsOfSecond', 1893, 1861), sunniva)
    expect([agility.amount, agility.placing.label]).toEqual([187, '60th'])
  })

  test('reach 33.5 stands at the 50th', () => {
    const reach = score(demoProtocol('measured'), validTries('millimetres', 310, 335, 330), sunniva)
    expect([reach.amount, reach.placing.label]).toEqual([335, '50th'])
  })

  test('run 13:06 stands at the 60th', () => {
    const run = score(demoProtocol('run'), validTries('tenthsOfSecond', 7854), sunniva)
    expect([run.amount, run.placing.label]).toEqual([786, '60th'])
  })

  test('each says its working, from the tries to the row, with table and edition', () => {
    const run = score(demoProtocol('run'), validTries('tenthsOfSecond', 7854), sunniva)
    expect(run.working.map(({ step, from, gives }) => [step, from, gives])).toEqual([
      ['read', 'try-1', '13:05.4'],
      ['counts', 'try-1', '13:05.4'],
      ['rounded', '13:05.4', '13:06'],
      ['group', 'W, 24', 'W20–29'],
      ['lookedUp', '786 wholeSeconds, row 60 at 800', '60th, table FX-1/run, edition FX-1 (invented)'],
    ])
  })

  test('skinfolds go from readings to a percentile, the third reading and the equation named', () => {
    const { details } = demoProtocol('skinfold')
    const [triceps, suprailiac, thigh] = sitesOf(details.equation, 'W')
    if (!triceps || !suprailiac || !thigh) throw new Error('three sites')
    const read = (site: typeof triceps, ...halves: number[]) =>
      halves.map((halfMillimetres, index) => ({ observationId: `${site}-${index + 1}`, site, halfMillimetres }))
    const done = circuit(sitesOf(details.equation, 'W'), details.repeatRule, [
      ...read(triceps, 36, 36),
      ...read(suprailiac, 32, 36, 32),
      ...read(thigh, 52, 52),
    ])
    if (done.state !== 'complete') throw new Error('a reading is missing')
    const fat = fatResult(details, done.sumQuarterMillimetres, sunniva, done.working)
    if (fat.state !== 'scored') throw new Error(fat.why)
    const table = demoNorms.find((norms) => norms.test === 'skinfold')
    const placed = scoreStation(demoProtocol('skinfold'), fat, sunniva, { ...(table && { table }) })
    // 18, 16 and 26 mm at 24: 23.749 percent by Jackson, Pollock & Ward 1980 and Siri 1961.
    expect([placed.amount, placed.placing.label]).toEqual([237, '50th'])
    expect(placed.working.map((line) => line.rule).join('; ')).toMatch(/nsca.*jacksonPollock3.*siri/)
  })
})

describe('a missed lap', () => {
  const man = { sex: 'M', ageYears: 24 } as const
  const rules = demoProtocol('run').details

  test('asked about at 8:04, withheld at 12:09, sixth inferred by a person, the 50th', () => {
    const run = taps('1:58', '3:59', '8:04')
    expect(readRun(run, null, rules).questions).toMatchObject([{ kind: 'possibleMissedCrossing', lapMs: 245_000, ownPaceMs: 119_500 }])
    const finish: Tap = { tapId: 'line', elapsedMs: elapsed('12:09') }
    const five = readRun([...run, ...taps('10:06')], finish, rules)
    expect([five.crossings.length, five.outcome.state]).toEqual([5, 'withheld'])
    const six = readRun([...run, ...taps('10:06'), { tapId: 'inferred', elapsedMs: elapsed('6:02'), inferred: true }], finish, rules)
    expect(six.outcome).toMatchObject({ state: 'finished', elapsedMs: 729_000, inferredLaps: 1 })
    expect(score(demoProtocol('run'), validTries('milliseconds', 729_000), man).placing.label).toBe('50th')
  })

  test('recorded 14:22 stands at the 10th; with a lap inferred near 6:03, 12:12 at the 50th', () => {
    const run = taps('2:00', '4:01', '8:06', '10:10', '12:12', '14:22')
    const settled = (reading: ReturnType<typeof readRun>) => (reading.outcome.state === 'finished' ? reading.outcome.elapsedMs : NaN)
    const asRun = settled(readRun(run, null, rules))
    const whatIf = settled(readRun([...run, { tapId: 'inferred', elapsedMs: elapsed('6:03'), inferred: true }], null, rules))
    expect([asRun, whatIf].map((ms) => score(demoProtocol('run'), validTries('milliseconds', ms), man).placing.label)).toEqual([
      '10th',
      '50th',
    ])
  })
})

describe('a scale found heavy', () => {
  const man = { sex: 'M', ageYears: 25 } as const
  const lift = (mass: number) => {
    const { amount, placing } = score(demoProtocol('loaded'), validTries('tenthsKg', 875), man, massOf(mass))
    return [amount, placing.label]
  }

  test('80.00 kg gives 109 % and the 50th; 1.60 kg less, 112 % and the 60th', () => {
    expect(lift(8000)).toEqual([109, '50th'])
    expect(lift(8000 - 160)).toEqual([112, '60th'])
  })
})

describe('a birthday on the day', () => {
  test('30 all day: the 60th in his own group, the 50th in the one that he left', () => {
    const ageYears = ageOn('1997-05-11', '2027-05-11', 'march1')
    const kofi = score(demoProtocol('run'), validTries('tenthsOfSecond', 7250), { sex: 'M', ageYears })
    expect(ageYears).toBe(30)
    expect(kofi.placing.group && sayGroup(kofi.placing.group)).toBe('M30–39')
    expect(kofi.placing.label).toBe('60th')
    expect(score(demoProtocol('run'), validTries('tenthsOfSecond', 7250), { sex: 'M', ageYears: 29 }).placing.label).toBe('50th')
  })

  test('born on 29 February: 29 on the last of February, 30 on the first of March', () => {
    expect(ageOn('2000-02-29', '2030-02-28', 'march1')).toBe(29)
    expect(ageOn('2000-02-29', '2030-03-01', 'march1')).toBe(30)
  })
})

describe('progress', () => {
  const runTested = (amount: number): Tested => {
    const table = demoNorms.find((norms) => norms.test === 'run')
    if (!table) throw new Error('no norms for the run')
    return {
      amount,
      unit: 'wholeSeconds',
      percentileLabel: percentileOf(amount, table, normGroup(table, sunniva)).label,
      group: 'W20–29',
      method: { protocol: 'run version 1', track: '402.336 m', timing: 'hand' },
      circumstances: { heat: 'WBGT 24.0 °C' },
    }
  }

  test('run 13:06 to 12:31: 35 s faster, the 60th to the 70th, nothing of the method different', () => {
    const [entry, exit] = [runTested(786), runTested(751)]
    expect([entry.percentileLabel, exit.percentileLabel]).toEqual(['60th', '70th'])
    expect(progress(entry, exit, 'lower', null)).toMatchObject({ difference: -35, direction: 'better', differs: [], notes: [] })
  })

  test('agility by gates after a hand time: not directly comparable, no arrow', () => {
    const agility = (timing: string): Tested => ({ ...runTested(187), unit: 'tenthsOfSecond', method: { timing } })
    expect(progress(agility('hand'), agility('electronic'), 'lower', null)).toMatchObject({
      verdict: 'notDirectlyComparable',
      direction: null,
      differs: ['timing'],
    })
  })

  test('a reach within its published error is no clear change', () => {
    const reach = (amount: number): Tested => ({ ...runTested(amount), unit: 'millimetres', method: { footLine: '260 mm' } })
    expect(progress(reach(335), reach(345), 'higher', publishedReliability.sitAndReach.W)).toMatchObject({
      verdict: 'noClearChange',
      direction: null,
    })
    expect(progress(reach(335), reach(375), 'higher', publishedReliability.sitAndReach.W)).toMatchObject({
      verdict: 'clearChange',
      direction: 'better',
    })
  })
})
