import { describe, expect, test } from 'vitest'
import { at, celsius, fahrenheit, reading, shown } from './controls.ts'
import { callsForHold, contactIsTooOld, type LiftQuestion, mayLift, readingAge } from './hold-policy.ts'
import { demoPolicy, type HeatPolicy } from './policies.ts'
import { figuresOf } from './reading-figures.ts'
import type { HeatReading } from './reading.ts'

const policy = demoPolicy
const figures = (one: HeatReading, under: HeatPolicy = policy) => figuresOf(one, under)
const lift = (one: HeatReading, over: Partial<LiftQuestion> = {}, under: HeatPolicy = policy) =>
  mayLift({ reading: figures(one, under), hold: { raisedAt: at('10:25') }, policy: under, nowMs: at('10:52'), ...over })

describe('raising', () => {
  test.each([
    [27.9, 'nothing'],
    [28.0, 'hold'],
    [28.3, 'hold'],
  ])('%d °C calls for %s', (degrees, calls) => {
    expect(callsForHold(shown(degrees), policy)).toMatchObject({ calls })
  })

  test('27.95 °C is 28.0 and calls for a hold', () => {
    const wbgt = { amount: 2795, unit: 'hundredthsDegC', resolution: 1, method: 'sensor' } as const
    expect(callsForHold(shown(0, { values: { wbgt } }), policy)).toMatchObject({ calls: 'hold', wbgt: { tenths: 280 } })
  })

  test('82.31 °F is 27.9 °C and does not, 82.4 °F is 28.0 °C and does', () => {
    expect(callsForHold(shown(0, { values: { wbgt: fahrenheit(82.3) } }), policy)).toMatchObject({ calls: 'nothing' })
    expect(callsForHold(shown(0, { values: { wbgt: fahrenheit(82.4) } }), policy)).toMatchObject({ calls: 'hold' })
  })

  test('an estimate, an unsettled and a doubtful reading raise as well', () => {
    expect(callsForHold(shown(29, { method: 'estimate' }), policy)).toMatchObject({ calls: 'hold', wbgt: { rule: 'estimated' } })
    expect(callsForHold(shown(29, { settled: false }), policy)).toMatchObject({ calls: 'hold' })
    const wetAboveDry = { naturalWetBulb: celsius(31), globe: celsius(45), dryBulb: celsius(30) }
    expect(callsForHold(reading({ values: wetAboveDry }), policy)).toMatchObject({ calls: 'hold' })
  })

  test('what cannot be computed or cannot be true is unknown', () => {
    expect(callsForHold(reading({ values: { naturalWetBulb: celsius(31) } }), policy)).toEqual({ calls: 'unknown' })
    expect(callsForHold(shown(82), policy)).toEqual({ calls: 'unknown' })
  })
})

describe('lifting a hold that was raised at 10:25', () => {
  test('granted on a settled reading under the threshold, taken after the dwell', () => {
    expect(lift(shown(27.1, { occurredAt: at('10:50') }))).toEqual({ granted: true })
    expect(lift(shown(27.9, { occurredAt: at('10:40') }))).toEqual({ granted: true })
  })

  test.each<[string, HeatReading, string]>([
    ['taken before the raise', shown(27.6, { occurredAt: at('10:20') }), 'readingOlderThanHold'],
    ['not settled', shown(27.1, { occurredAt: at('10:41'), settled: false }), 'instrumentNotSettled'],
    ['on the threshold', shown(28.0, { occurredAt: at('10:50') }), 'notBelowLiftThreshold'],
    ['taken within the dwell', shown(27.1, { occurredAt: at('10:39:59') }), 'dwellNotOver'],
    ['an estimate', shown(27.1, { occurredAt: at('10:50'), method: 'estimate' }), 'estimateCannotLift'],
    ['of an aspirated wet bulb in sun', shown(27.1, { occurredAt: at('10:50'), wetBulbKind: 'psychrometric' }), 'estimateCannotLift'],
    ['of a derived wet bulb', shown(27.1, { occurredAt: at('10:50'), wetBulbKind: 'derived' }), 'derivedWetBulbCannotLift'],
    ['in the future', shown(27.1, { occurredAt: at('10:53') }), 'readingInFuture'],
    ['without its globe', reading({ values: { naturalWetBulb: celsius(20) }, occurredAt: at('10:50') }), 'readingUnusable'],
    ['impossible', shown(-10, { occurredAt: at('10:50') }), 'readingUnusable'],
  ])('refused on a reading %s', (_, one, refused) => {
    expect(lift(one)).toEqual({ refused })
  })

  test('refused on a reading that has grown too old', () => {
    expect(lift(shown(27.1, { occurredAt: at('10:45') }), { nowMs: at('11:15') })).toEqual({ granted: true })
    expect(lift(shown(27.1, { occurredAt: at('10:45') }), { nowMs: at('11:15:01') })).toEqual({ refused: 'readingTooOld' })
  })

  test('refused on a doubtful reading until a person has looked again', () => {
    const wickDry = reading({
      occurredAt: at('10:50'),
      values: { naturalWetBulb: celsius(24), globe: celsius(36), dryBulb: celsius(24.2) },
    })
    expect(lift(wickDry)).toEqual({ refused: 'readingUnusable' })
    expect(lift(wickDry, { reading: figuresOf(wickDry, policy, { confirmed: ['wickLooksDry'] }) })).toEqual({ granted: true })
  })

  test('an instrument that was moved less than 25 minutes before does not lift, whatever was ticked', () => {
    const one = shown(27.1, { occurredAt: at('10:50') })
    const moved = figuresOf(one, policy, { surroundings: { undisturbedSince: at('10:26') } })
    expect(lift(one, { reading: moved })).toEqual({ refused: 'instrumentNotSettled' })
  })

  test('where it is not certain which came first, the hold did', () => {
    const one = shown(27.1, { occurredAt: at('10:40') })
    const uncertain = figuresOf(one, policy, { at: { readAt: at('10:40'), bandMs: 400 } })
    expect(lift(one, { reading: uncertain })).toEqual({ refused: 'dwellNotOver' })
    expect(lift(one, { hold: { raisedAt: at('10:25'), bandMs: 1 } })).toEqual({ refused: 'dwellNotOver' })
  })

  test('a later reading on or over the threshold stands against it, whatever is wrong with that one', () => {
    const cool = shown(27.1, { occurredAt: at('10:45') })
    const hot = figures(shown(28, { readingId: 'reading-2', occurredAt: at('10:50'), settled: false }))
    expect(lift(cool, { others: [hot] })).toEqual({ refused: 'laterReadingNotBelow' })
  })

  test('a policy may ask for several readings in a row', () => {
    const two: HeatPolicy = { ...policy, settledReadingsToLift: 2 }
    const last = shown(27.1, { occurredAt: at('10:50') })
    const earlier = (degrees: number, clock: string) => figures(shown(degrees, { readingId: `at ${clock}`, occurredAt: at(clock) }))
    expect(lift(last, {}, two)).toEqual({ refused: 'moreReadingsNeeded' })
    expect(lift(last, { others: [earlier(27.2, '10:41')] }, two)).toEqual({ granted: true })
    expect(lift(last, { others: [earlier(27.2, '10:41'), earlier(28.1, '10:45')] }, two)).toEqual({ refused: 'moreReadingsNeeded' })
    expect(lift(last, { others: [earlier(27.2, '10:30')] }, two)).toEqual({ refused: 'moreReadingsNeeded' })
  })

  test('a latched hold stays for the session, and a policy may trust derived wet bulbs', () => {
    const one = shown(20, { occurredAt: at('10:50'), wetBulbKind: 'derived' })
    expect(lift(one, {}, { ...policy, latched: true })).toEqual({ refused: 'latchedForSession' })
    expect(lift(one, {}, { ...policy, derivedWetBulbMayLift: true })).toEqual({ granted: true })
  })

  test('figures in another unit than the policy’s are turned away', () => {
    const one = shown(27.1, { occurredAt: at('10:50') })
    expect(lift(one, { reading: { ...figures(one), unit: 'degF' } })).toEqual({ refused: 'otherUnit' })
  })
})

describe('the age of the last reading', () => {
  const last = figures(shown(27.1, { occurredAt: at('10:50') }))

  test('fresh for thirty minutes, overdue after', () => {
    expect(readingAge([last], policy, at('11:20'))).toEqual({ state: 'fresh', reading: last, ageMs: 30 * 60_000 })
    expect(readingAge([last], policy, at('11:21'))).toMatchObject({ state: 'overdue', ageMs: 31 * 60_000 })
  })

  test('an estimate, an unusable, unsettled or future reading does not make it fresh', () => {
    const later = (over: Partial<HeatReading>) => figures(shown(25, { readingId: 'later', occurredAt: at('11:10'), ...over }))
    for (const over of [{ method: 'estimate' }, { values: {} }, { settled: false }, { occurredAt: at('11:30') }] as const)
      expect(readingAge([last, later(over)], policy, at('11:21'))).toMatchObject({ state: 'overdue', reading: last })
    expect(readingAge([later({}), last], policy, at('11:21'))).toMatchObject({ state: 'fresh' })
  })

  test('none is unknown, and a policy without readings asks for none', () => {
    expect(readingAge([], policy, at('11:21'))).toEqual({ state: 'none' })
    expect(readingAge([], { ...policy, readingsNeeded: false }, at('11:21'))).toEqual({ state: 'notNeeded' })
  })

  test('a device is out of contact after five minutes, not at five', () => {
    expect(contactIsTooOld(at('10:31'), policy, at('10:36'))).toBe(false)
    expect(contactIsTooOld(at('10:31'), policy, at('10:36:10'))).toBe(true)
  })
})
