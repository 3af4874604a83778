import { expect, test } from 'vitest'
import { scanned } from './scanner.ts'

const typed = (text: string, everyMs: number, enterAfterMs = everyMs) => [
  ...[...text].map((key, i) => ({ key, at: i * everyMs })),
  { key: 'Enter', at: (text.length - 1) * everyMs + enterAfterMs },
]

test('a burst that ends on Enter is what a scanner read', () => {
  expect(scanned(typed('121', 8))).toBe('121')
  expect(scanned(typed('121', 40))).toBe('121')
})

test('a hand is slower, and Enter alone is nothing', () => {
  expect(scanned(typed('121', 41))).toBeNull()
  expect(scanned(typed('121', 8, 200))).toBeNull()
  expect(scanned([{ key: 'Enter', at: 0 }])).toBeNull()
  expect(scanned(typed('121', 8).slice(0, -1))).toBeNull()
})

test('what a hand typed before it is none of it, nor a key that is no sign', () => {
  expect(scanned([{ key: '9', at: -900 }, ...typed('104', 5)])).toBe('104')
  expect(scanned([{ key: 'Shift', at: -1 }, ...typed('104', 5)])).toBe('104')
})
