import { expect, test } from 'vitest'
import { pastSoles, reachOnFootLine } from './sit-and-reach.ts'

test('the four published foot-lines meet at the soles', () => {
  expect(pastSoles(60, 'quarterInches', 381)).toBe(0)
  expect(pastSoles(260, 'millimetres', 260)).toBe(0)
  expect(pastSoles(230, 'millimetres', 230)).toBe(0)
  expect(pastSoles(-30, 'millimetres', 0)).toBe(-30_000)
})

test('33.5 cm on a 26-cm box is 30.5 on a 23-cm one and 17.95 in on the 15-inch mark', () => {
  expect(reachOnFootLine(335, 'millimetres', 260, 230)).toBe(305_000)
  expect(reachOnFootLine(335, 'millimetres', 260, 381) / 25_400).toBeCloseTo(17.95, 2)
  expect(reachOnFootLine(305, 'millimetres', 230, 260)).toBe(335_000)
})
