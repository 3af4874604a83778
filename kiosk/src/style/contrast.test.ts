import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'

/** Relative luminance and contrast ratio as WCAG 2.2 defines them (https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio). */
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const part = parseInt(colour.slice(at, at + 2), 16) / 255
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}
function contrast(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b)
  return (light + 0.05) / (dark + 0.05)
}

const css = readFileSync(new URL('./tokens.css', import.meta.url), 'utf8')
const colours = (block: string) =>
  Object.fromEntries([...block.matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map(([, name, value]) => [name, value]))
const [indoorBlock = '', outdoorBlock = ''] = css.split(":root[data-theme='outdoor']")
const indoor = colours(indoorBlock) as Record<string, string>
const outdoor = { ...indoor, ...colours(outdoorBlock) } as Record<string, string>
const between = (theme: Record<string, string>, one: string, other: string) => contrast(theme[one] ?? '', theme[other] ?? '')

test('the ratio is that of the standard: black on white 21, and its own grey example', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5)
  expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2)
})

describe('outdoors', () => {
  test.each([
    ['ink', 'paper'],
    ['ink', 'sheet'],
    ['ink-quiet', 'sheet'],
    ['on-spine', 'spine'],
    ['on-hold', 'hold'],
    ['on-stop', 'stop'],
    ['on-act', 'act'],
    ['ink', 'met-tint'],
    ['ink', 'not-met-tint'],
    ['ink', 'unknown-tint'],
    ['ink', 'quiet-tint'],
  ])('values and states: %s on %s has at least 15 : 1', (one, other) => {
    expect(between(outdoor, one, other)).toBeGreaterThanOrEqual(15)
  })

  test.each(['met', 'not-met', 'unknown', 'quiet', 'rule', 'rule-strong', 'key-edge', 'stop-edge'])(
    '%s on the sheet has at least 7 : 1',
    (shape) => {
      expect(between(outdoor, shape, 'sheet')).toBeGreaterThanOrEqual(7)
    },
  )
})

describe('indoors', () => {
  test.each([
    ['ink', 'paper', 15],
    ['ink', 'sheet', 15],
    ['ink', 'not-met-tint', 13],
    ['ink', 'unknown-tint', 13],
    ['ink-quiet', 'paper', 7],
    ['ink-quiet', 'not-met-tint', 7],
    ['ink-quiet', 'unknown-tint', 7],
    ['ink-quiet', 'quiet-tint', 7],
    ['on-spine', 'spine', 7],
    ['on-spine-quiet', 'spine', 7],
    ['on-act', 'act', 7],
    ['on-hold', 'hold', 7],
    ['on-stop', 'stop', 7],
    ['act', 'paper', 7],
    ['met', 'sheet', 7],
    ['not-met', 'sheet', 7],
    ['unknown', 'sheet', 7],
  ])('%s on %s has at least %d : 1', (one, other, least) => {
    expect(between(indoor, one, other)).toBeGreaterThanOrEqual(least)
  })

  test('edges of keys and fields can be made out: at least 3 : 1', () => {
    expect(between(indoor, 'key-edge', 'paper')).toBeGreaterThanOrEqual(3)
    expect(between(indoor, 'rule-strong', 'paper')).toBeGreaterThanOrEqual(3)
  })
})
