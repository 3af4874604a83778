import { expect, test } from 'vitest'
import { inSmallest, sameDimension, sayValue } from './units.ts'

test.each([
  [1861, 'hundredthsOfSecond', '18.61 s'],
  [187, 'tenthsOfSecond', '18.7 s'],
  [7854, 'tenthsOfSecond', '13:05.4'],
  [78_540, 'hundredthsOfSecond', '13:05.40'],
  [786, 'wholeSeconds', '13:06'],
  [60_000, 'hundredthsOfSecond', '10:00.00'],
  [335, 'millimetres', '33.5 cm'],
  [-20, 'millimetres', '-2.0 cm'],
  [24, 'halfMillimetres', '12.0 mm'],
  [49, 'quarterMillimetres', '12.25 mm'],
  [70, 'quarterInches', '17.50 in'],
  [450, 'tenthsKg', '45.0 kg'],
  [62_400, 'grams', '62.400 kg'],
  [72, 'percentOfBodyMass', '72 %'],
  [187, 'tenthsOfPercentFat', '18.7 %'],
  [41, 'count', '41'],
] as const)('%i %s is said %s', (amount, unit, said) => {
  expect(sayValue(amount, unit)).toBe(said)
})

test('units of one dimension meet exactly: inch and pound by definition', () => {
  expect(inSmallest(4 * 15, 'quarterInches')).toBe(inSmallest(381, 'millimetres'))
  expect(inSmallest(10, 'tenthsLb')).toBe(453_592_370)
  expect(sameDimension('tenthsLb', 'grams')).toBe(true)
  expect(sameDimension('tenthsLb', 'count')).toBe(false)
})
