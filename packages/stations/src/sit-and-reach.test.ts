import { expect, test } from 'vitest'
import { demoProtocol, validTries } from './controls.ts'
import { officialResult } from './official-result.ts'
import { onFootLine, pastSoles } from './sit-and-reach.ts'

test('the four published foot-lines meet at the soles', () => {
  expect(pastSoles(60, 'quarterInches', 381)).toBe(0)
  expect(pastSoles(260, 'millimetres', 260)).toBe(0)
  expect(pastSoles(230, 'millimetres', 230)).toBe(0)
  expect(pastSoles(-30, 'millimetres', 0)).toBe(-30_000)
})

test('read on a 23-cm box and scored at 26 cm: what was read stays, three centimetres are added', () => {
  const [reach] = validTries('millimetres', 305)
  if (!reach) throw new Error('a try')
  const result = officialResult(demoProtocol('measured'), [onFootLine(reach, 230, 260)])
  expect(result).toMatchObject({ amount: 335, unit: 'millimetres' })
  expect('working' in result && result.working.map((line) => line.gives)).toEqual(['3.0 cm added', '30.5 cm', '30.5 cm', '33.5 cm'])
  expect(onFootLine(reach, 260, 260)).toBe(reach)
})

test('the best is found on one foot-line, whatever box each try was read on', () => {
  const [onOwn, onOther] = validTries('millimetres', 330, 310)
  if (!onOwn || !onOther) throw new Error('two tries')
  expect(officialResult(demoProtocol('measured'), [onOwn, onFootLine(onOther, 230, 260)])).toMatchObject({ amount: 340 })
})
