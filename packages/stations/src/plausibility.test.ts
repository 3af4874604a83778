import { expect, test } from 'vitest'
import { demoProtocol } from './controls.ts'
import { plausibility } from './plausibility.ts'

const reach = demoProtocol('measured')
const agility = demoProtocol('timed')

test('61.0 for 16.0 is asked about and offered the other way round', () => {
  expect(plausibility(610, reach, [])).toEqual([
    { kind: 'outsideUsualRange', min: 0, max: 550 },
    { kind: 'digitsSwapped', maybe: 160 },
  ])
})

test('a usual value asks nothing, at both ends of the range', () => {
  expect(plausibility(0, reach, [])).toEqual([])
  expect(plausibility(550, reach, [])).toEqual([])
  expect(plausibility(335, reach, [310])).toEqual([])
})

test('a jump from the student’s own values is asked about, and swapped digits where they explain it', () => {
  expect(plausibility(2180, agility, [1810, 1790])).toEqual([{ kind: 'jumpFromHistory', nearest: 1810, by: 370 }])
  expect(plausibility(2810, agility, [1810])).toEqual([{ kind: 'jumpFromHistory', nearest: 1810, by: 1000 }])
  expect(plausibility(530, reach, [350, 340])).toEqual([
    { kind: 'jumpFromHistory', nearest: 350, by: 180 },
    { kind: 'digitsSwapped', maybe: 350 },
  ])
})

test('a load that no plates make is asked about', () => {
  expect(plausibility(453, demoProtocol('loaded'), [])).toEqual([{ kind: 'betweenSteps', resolution: 5 }])
})
