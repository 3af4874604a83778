import { afterEach, describe, expect, test } from 'vitest'
import { writeFiguresIn } from '../../words/figures.ts'
import { amountOf, press, shown, written, type Form, type PadKey } from './typing.ts'

const tenths: Form = { places: 1, negative: true }
const time: Form = { places: 0, shape: 'time' }
const type = (keys: PadKey[], form: Form) => keys.reduce((typed, key) => press(typed, key, form), '')

afterEach(() => writeFiguresIn('en'))

describe('typing a value', () => {
  test('a length is kept as an integer of the resolution read', () => {
    expect(amountOf(type(['3', '8', 'mark', '0'], tenths), tenths)).toBe(380)
    expect(amountOf(type(['3', '8'], tenths), tenths)).toBe(380)
  })

  test('below the foot-line is negative, whenever minus is pressed', () => {
    expect(amountOf(type(['4', 'minus', 'mark', '5'], tenths), tenths)).toBe(-45)
    expect(amountOf(type(['minus', 'minus', '4'], tenths), tenths)).toBe(40)
    expect(amountOf(type(['minus', '0'], tenths), tenths)).toBe(0)
  })

  test('no more decimals than were read, no second mark, no leading noughts', () => {
    expect(type(['1', 'mark', '2', '3', 'mark'], tenths)).toBe('1.2')
    expect(type(['0', '0', '7'], tenths)).toBe('7')
    expect(type(['mark', '5'], tenths)).toBe('0.5')
  })

  test('where only halves or quarters can be read, nothing else can be typed', () => {
    const halves: Form = { places: 1, fractions: ['0', '5'] }
    expect(type(['1', '2', 'mark', '3'], halves)).toBe('12.')
    expect(amountOf(type(['1', '2', 'mark', '3', '5'], halves), halves)).toBe(125)
    const quarters: Form = { places: 2, fractions: ['00', '25', '50', '75'] }
    expect(type(['7', 'mark', '2', '7', '5'], quarters)).toBe('7.25')
  })

  test('nothing readable is no value', () => {
    expect(amountOf('', tenths)).toBeUndefined()
    expect(amountOf('-', tenths)).toBeUndefined()
  })

  test('a time fills from the right', () => {
    expect(shown(type(['1', '2', '5', '7'], time), time)).toBe('12:57')
    expect(amountOf('1257', time)).toBe(777)
    expect(shown('9', time)).toBe('0:09')
    expect(amountOf('12573', { places: 1, shape: 'time' })).toBe(7773)
  })

  test('the display uses the mark of the language', () => {
    writeFiguresIn('es')
    expect(shown('38.0', tenths)).toBe('38,0')
    expect(written(-45, tenths)).toBe('−4,5')
    expect(written(777, time)).toBe('12:57')
  })
})

test('a birth date fills from the left and is nothing until it is a day that there was', () => {
  const form: Form = { places: 0, shape: 'date' }
  expect(shown('', form)).toBe('–– / –– / ––––')
  expect(shown('110', form)).toBe('11 / 0– / ––––')
  expect(amountOf('1105199', form)).toBeUndefined()
  expect(amountOf('11051997', form)).toBe(19_970_511)
  expect(press('11051997', '3', form)).toBe('11051997')
  expect(amountOf('31041997', form)).toBeUndefined()
  expect(amountOf('29021999', form)).toBeUndefined()
  expect(amountOf('29022000', form)).toBe(20_000_229)
})
