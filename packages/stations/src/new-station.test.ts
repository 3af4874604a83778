import { expect, test } from 'vitest'
import { demoProtocol, validTries } from './controls.ts'
import { officialResult } from './official-result.ts'
import { plausibility } from './plausibility.ts'
import { type Protocol, protocolProblems } from './protocol.ts'
import { witnesses } from './witnesses.ts'

/*
 * A new kind of timed, counted or measured station is a protocol file and no code. These three come through JSON, as a
 * file does, and nothing else in the house knows them. INVENTED.
 */
const common = {
  ...demoProtocol('timed'),
  noFaults: [],
  invented: true,
  source: 'Invented for this test',
}
const fromFile = (protocol: Protocol): Protocol => JSON.parse(JSON.stringify(protocol)) as Protocol

const sprint = fromFile({
  ...common,
  protocolId: 'sprint300',
  kind: 'timed',
  name: 'Run, 300 m',
  tries: 1,
  rounding: { rule: 'up', to: 1 },
  plausible: { min: 3500, max: 12_000 },
  outdoor: true,
  details: { course: { name: 'three quarters of a 400-m track', lengthMm: 300_000 }, start: 'standing', finish: 'chest over the line' },
})
const pushUps = fromFile({
  ...common,
  protocolId: 'pushUps',
  kind: 'counted',
  name: 'Push-ups, one minute',
  tries: 1,
  betterIs: 'higher',
  unit: 'count',
  resolution: 1,
  scoreUnit: 'count',
  rounding: { rule: 'none', to: 1 },
  plausible: { min: 0, max: 100 },
  askJump: 30,
  witnessRule: 'lowerCounts',
  details: { counts: 'chest to the fist and back to straight arms', windowMs: 60_000 },
})
const jump = fromFile({
  ...common,
  protocolId: 'broadJump',
  kind: 'measured',
  name: 'Standing long jump',
  tries: 3,
  betterIs: 'higher',
  unit: 'quarterInches',
  resolution: 1,
  scoreUnit: 'wholeInches',
  rounding: { rule: 'down', to: 1 },
  plausible: { min: 80, max: 500 },
  askJump: 60,
  witnessRule: 'lowerCounts',
  details: { instrument: 'tape', negativeAllowed: false },
})

test.each([sprint, pushUps, jump])('$name is adoptable as it stands', (protocol) => {
  expect(protocolProblems(protocol)).toEqual([])
})

test('each is measured, best-of, rounded, asked about and witnessed by the same code', () => {
  expect(officialResult(sprint, validTries('hundredthsOfSecond', 5231))).toMatchObject({ amount: 524, unit: 'tenthsOfSecond' })
  expect(officialResult(pushUps, validTries('count', 41))).toMatchObject({ amount: 41, unit: 'count' })
  expect(officialResult(jump, validTries('quarterInches', 310, 331, 325))).toMatchObject({ amount: 82, unit: 'wholeInches' })
  expect(plausibility(14, pushUps, [41])).toEqual([])
  expect(plausibility(501, pushUps, [])).toContainEqual({ kind: 'digitsSwapped', maybe: 51 })
  const seen = (observationId: string, amount: number) => ({ observationId, amount, unit: 'count' as const, happenedAtMs: 0 })
  expect(witnesses([seen('a', 41), seen('b', 40)], pushUps.witnessRule, 60_000)).toMatchObject({ provisional: { amount: 40 } })
})

test('a file that contradicts itself is not adoptable, and says why', () => {
  expect(protocolProblems({ ...pushUps, tries: 0, plausible: { min: 5, max: 5 }, resolution: 0.5, steps: [] })).toHaveLength(4)
  expect(protocolProblems({ ...pushUps, scoreUnit: 'percentOfBodyMass', rounding: { rule: 'nearest', to: 1 } })).toEqual([
    'a percentage of body mass needs body mass before the start',
  ])
  expect(protocolProblems({ ...jump, rounding: { rule: 'none', to: 1 } })).toEqual([
    'the score unit is coarser than what is read, and no rounding is named',
  ])
})
