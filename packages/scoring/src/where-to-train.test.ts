import { expect, test } from 'vitest'
import { demoTable } from './controls.ts'
import { normGroup, percentileOf } from './norms.ts'
import { type Standing, trainingCaution, trainingNotes, whereToTrainFirst } from './where-to-train.ts'

function standing(test: string, amount: number, standardError: number | null = null): Standing {
  const table = demoTable(test)
  const placing = percentileOf(amount, table, normGroup(table, { sex: 'W', ageYears: 24 }))
  return { stationId: test, amount, betterIs: table.betterIs, placing, table, standardError }
}

test('lowest standing first, clearly lowest only when its whole band lies under the person’s own median', () => {
  const first = whereToTrainFirst([
    standing('benchPress', 72),
    standing('agility', 187),
    standing('sitAndReach', 225),
    standing('run', 786),
  ])
  expect(first.map((one) => [one.stationId, one.band.lowest, one.band.highest, one.isClearlyLowest])).toEqual([
    ['sitAndReach', 10, 20, true],
    ['agility', 60, 70, false],
    ['run', 60, 70, false],
    ['benchPress', 70, 80, false],
  ])
})

test('a measurement error widens the band until the lowest is not clearly so', () => {
  const clear = whereToTrainFirst([standing('sitAndReach', 335), standing('run', 786), standing('benchPress', 72)])
  const unclear = whereToTrainFirst([standing('sitAndReach', 335, 13), standing('run', 786), standing('benchPress', 72)])
  expect(clear[0]).toMatchObject({ stationId: 'sitAndReach', band: { lowest: 50, highest: 60 }, isClearlyLowest: true })
  expect(unclear[0]).toMatchObject({ stationId: 'sitAndReach', band: { lowest: 40, highest: 70 }, isClearlyLowest: false })
})

test('below the last row begins at nothing; a station without a norm is left out', () => {
  const without: Standing = { ...standing('run', 786), placing: percentileOf(786, demoTable('run'), undefined) }
  expect(whereToTrainFirst([standing('benchPress', 10), without])).toEqual([
    { stationId: 'benchPress', band: { stationId: 'benchPress', lowest: 0, highest: 10 }, isClearlyLowest: false },
  ])
  expect(whereToTrainFirst([])).toEqual([])
})

test('the words are general, name their source and promise nothing', () => {
  expect(trainingNotes.every((note) => note.source.includes('from memory'))).toBe(true)
  expect(JSON.stringify([trainingNotes, trainingCaution])).not.toMatch(/\bsafe\b|\bfit\b|healthy|guarantee/i)
})
