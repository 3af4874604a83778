import { expect, test } from 'vitest'
import { demoProtocol } from './controls.ts'
import { lapSteps } from './lap-steps.ts'
import { readRun } from './laps.ts'

const rules = demoProtocol('run').details
const taps = [118, 239, 484, 606].map((seconds) => ({ tapId: `t${seconds}`, elapsedMs: 1000 * seconds }))

test('each crossing, the tap set aside and the inferred lap stand in the working', () => {
  const inferred = { tapId: 'by-wren', elapsedMs: 362_000, inferred: true }
  const twice = { tapId: 'twice', elapsedMs: 118_400 }
  const steps = lapSteps(readRun([...taps, twice, inferred], { tapId: 'line', elapsedMs: 729_000 }, rules))
  expect(steps.map(({ rule, gives }) => `${rule}: ${gives}`)).toEqual([
    'crossing 1: 1:58.000',
    'crossing 2: 3:59.000',
    'crossing 3, inferred by a person: 6:02.000',
    'crossing 4: 8:04.000',
    'crossing 5: 10:06.000',
    'crossing 6: 12:09.000',
    'a tap that does not count: underMinimumLap: 1:58.400',
    '6 crossings, 1 of them inferred: 12:09.000',
  ])
})

test('a withheld run says so', () => {
  expect(lapSteps(readRun(taps, { tapId: 'line', elapsedMs: 729_000 }, rules)).at(-1)).toMatchObject({
    rule: '5 crossings',
    gives: 'withheld',
  })
})
