import { expect, test } from 'vitest'
import { bundleIn, bundleOf, codesOf, missingCodes, readBundle, withCode, type Seen } from './bundle.ts'

const items = Array.from({ length: 20 }, (_, n) => ({
  kind: 'act',
  act: 'recordCrossing',
  envelope: { commandId: `c-${n}` },
  body: { words: 'Ærø' },
}))
const bundle = bundleOf('device-7', 'Track 1', items)

test('a file holds every item as the device itself would send it, and is known again', () => {
  const read = readBundle(JSON.stringify(bundle))
  expect(read).toEqual(bundle)
  expect(read!.items.map((item) => JSON.parse(item) as object)).toEqual(items)
})

test('what was changed on its way, cut off, or is something else is not taken', () => {
  expect(readBundle(JSON.stringify(bundle).replace('c-3', 'c-4'))).toBeNull()
  expect(readBundle(JSON.stringify(bundle).slice(0, -9))).toBeNull()
  expect(readBundle('{"kind":"roster"}')).toBeNull()
})

test('codes are read in any order, twice or more, and say which are missing', () => {
  const codes = codesOf(bundle)
  expect(codes.length).toBeGreaterThan(3)
  const shuffled = [...codes.slice(2), codes[0]!, codes[0]!]
  const seen = shuffled.reduce<Seen | null>(withCode, null)!
  expect(missingCodes(seen)).toEqual([2])
  expect(bundleIn(seen)).toBeNull()
  expect(bundleIn(withCode(seen, codes[1]!)!)).toEqual(bundle)
})

test('a code of another bundle begins anew, a code that is none changes nothing', () => {
  const one = withCode(null, codesOf(bundle)[0]!)
  expect(withCode(one, 'https://example.org')).toBe(one)
  const other = codesOf(bundleOf('device-8', 'Track 2', items))
  expect(missingCodes(withCode(one, other[1]!)!)).toContain(1)
})
