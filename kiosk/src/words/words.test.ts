import { describe, expect, test } from 'vitest'
import { en } from './en.ts'
import { count, raceTime, shortDuration, wallClock, writeFiguresIn, decimalMark } from './figures.ts'
import { neverSay } from './never-say.ts'

describe('the words', () => {
  test('never make a claim that is not ours to make', () => {
    const said = sentences(en)
    expect(said.length).toBeGreaterThan(100)
    expect(said.filter((sentence) => neverSay.some((claim) => claim.test(sentence)))).toEqual([])
  })

  test('leave no sentence empty', () => {
    expect(sentences(en, [3]).filter((sentence) => sentence.trim() === '')).toEqual([])
  })
})

describe('figures', () => {
  test('ages are short and never rounded up', () => {
    expect(shortDuration(59_999)).toBe('59 s')
    expect(shortDuration(12 * 60_000 + 59_000)).toBe('12 min')
    expect(shortDuration(125 * 60_000)).toBe('2 h 05 min')
  })

  test('a race time keeps the decimals that were read', () => {
    expect(raceTime(1742)).toBe('17.42')
    expect(raceTime(1690, 1)).toBe('16.9')
    expect(raceTime(77_700, 0)).toBe('12:57')
  })

  test('the clock is that of the site, not of the device', () => {
    expect(wallClock(Date.UTC(2026, 4, 11, 9, 31), 'Europe/Oslo')).toBe('11:31')
  })

  test('the decimal mark and plurals follow the language', () => {
    writeFiguresIn('es')
    expect(decimalMark()).toBe(',')
    expect(raceTime(1742)).toBe('17,42')
    writeFiguresIn('ar')
    expect(count(2, { two: 'two', other: 'other' })).toBe('two')
    writeFiguresIn('en')
  })
})

/** Every string of the words, functions called with plausible arguments of either kind. */
function sentences(value: unknown, told: readonly unknown[] = [3, 'Name']): string[] {
  if (typeof value === 'string') return [value]
  if (typeof value === 'function') return told.map((argument) => String(value(argument, argument, argument)))
  if (typeof value === 'object' && value !== null) return Object.values(value).flatMap((inner) => sentences(inner, told))
  return []
}
