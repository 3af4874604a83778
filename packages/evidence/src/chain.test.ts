import { expect, test } from 'vitest'
import { chainFault, entryHash, genesis, type Link } from './chain.ts'

const chained = (texts: readonly string[]): Link[] =>
  texts.reduce<Link[]>((entries, text, index) => {
    const entry = { stream: 'day/1', version: index + 1, prevHash: entries.at(-1)?.hash ?? genesis, text }
    return [...entries, { ...entry, hash: entryHash(entry) }]
  }, [])

const [first, second, third] = chained(['one', 'two', 'three']) as [Link, Link, Link]

test('a chain that was built fits', () => {
  expect([chainFault(undefined, first), chainFault(first, second), chainFault(second, third)]).toEqual([undefined, undefined, undefined])
})

test('every kind of misfit is named', () => {
  expect(chainFault(first, third)).toContain('stands where entry 2 belongs')
  expect(chainFault(undefined, second)).toContain('stands where entry 1 belongs')
  expect(chainFault({ ...first, stream: 'day/2' }, second)).toContain('stands in the stream day/2')
  expect(chainFault({ ...first, hash: genesis }, second)).toContain('does not name the hash of the entry before it')
  expect(chainFault(first, { ...second, text: 'tow' } as Link)).toContain('does not have the content')
  expect(chainFault(undefined, { ...first, prevHash: first.hash })).toContain('does not name the hash')
})

test('the hash covers stream, version and the hash before', () => {
  const hashes = [
    first,
    { ...first, stream: 'day/2' },
    { ...first, version: 2 },
    { ...first, prevHash: first.hash },
    { ...first, more: 1 },
  ].map(entryHash)
  expect(new Set(hashes).size).toBe(5)
  expect(entryHash({ ...first, hash: 'anything' })).toBe(first.hash)
})
