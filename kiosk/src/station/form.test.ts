import { demoProtocol } from '@musterbook/stations/controls'
import { expect, test } from 'vitest'
import { amountOf } from '../parts/number-pad/typing.ts'
import { elapsedIn, foldForm, formOf } from './form.ts'

const typedAs = (typed: string, form: ReturnType<typeof formOf>) => form.amountOf(amountOf(typed, form) ?? Number.NaN)

test('a reach is typed in centimetres and kept in millimetres, below the foot-line too', () => {
  const form = formOf({ ...demoProtocol('measured'), negative: true })
  expect(form).toMatchObject({ places: 1, sign: 'cm', negative: true })
  expect(typedAs('33.5', form)).toBe(335)
  expect(typedAs('-4.5', form)).toBe(-45)
  expect(form.typedOf(335)).toBe('33.5')
})

test('a time is typed with as many decimals as are read', () => {
  const form = formOf(demoProtocol('timed'))
  expect(form).toMatchObject({ places: 2, sign: 's', shape: 'number' })
  expect(typedAs('18.61', form)).toBe(1861)
  expect(typedAs('17.3', form)).toBe(1730)
  const tenthsAlone = formOf({ ...demoProtocol('timed'), resolution: 10 })
  expect(tenthsAlone.places).toBe(1)
  expect(typedAs('17.3', tenthsAlone)).toBe(1730)
})

test('a long time is typed as minutes and seconds', () => {
  const form = formOf(demoProtocol('run'))
  expect(form).toMatchObject({ places: 2, shape: 'time' })
  expect(typedAs('130540', form)).toBe(78_540)
  expect(form.typedOf(78_540)).toBe('130540')
})

test('a fold is typed in millimetres and kept in half-millimetres', () => {
  expect(typedAs('12.5', foldForm)).toBe(25)
  expect(typedAs('12', foldForm)).toBe(24)
})

test('quarters of an inch are kept as quarters', () => {
  const form = formOf({ unit: 'quarterInches', resolution: 1, plausible: { min: 0, max: 100 } })
  expect(typedAs('17.25', form)).toBe(69)
  expect(form.typedOf(69)).toBe('17.25')
})

test('the watch gives what it shows', () => {
  expect(elapsedIn(18_619, 'hundredthsOfSecond')).toBe(1861)
  expect(elapsedIn(18_699, 'tenthsOfSecond')).toBe(186)
  expect(elapsedIn(18_619, 'milliseconds')).toBe(18_619)
})
