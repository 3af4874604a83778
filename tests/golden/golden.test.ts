import { expect, test } from 'vitest'
import { canonical } from '@musterbook/evidence/canonical'
import { DayEvent } from '@musterbook/vocabulary/events'
import { readGolden, recordHash } from './golden.ts'

/**
 * Every rule set that was ever released, and every event that was added to one since: days pinned to one must fold to the
 * same records for as long as anybody may ask.
 */
const released = {
  'muster-1': ['"amount":1712', '"amount":1713'],
  'muster-1-taken-over': ['"elapsedMs":725200', '"elapsedMs":726200'],
  'muster-1-headcount': ['"until":"2027-05-25"', '"until":"2027-05-26"'],
  'muster-1-heard-by-radio': ['"until":"2027-05-25"', '"until":"2027-05-26"'],
} as const

for (const [ruleSet, [from, to]] of Object.entries(released)) {
  const { head, entries } = readGolden(ruleSet)

  test(`${ruleSet}: folds to the records that it had when it was released`, () => {
    expect(entries).toHaveLength(head.entries)
    expect(recordHash(entries)).toBe(head.recordHash)
  })

  test(`${ruleSet}: a value of one event moves the hash`, () => {
    const bent = JSON.parse(JSON.stringify(entries).replaceAll(from, to)) as typeof entries
    expect(recordHash(bent)).not.toBe(head.recordHash)
  })

  test(`${ruleSet}: every event reads as today's schemas have it, nothing added and nothing lost`, () => {
    for (const event of entries.flatMap((entry) => entry.events)) expect(canonical(DayEvent.parse(event))).toBe(canonical(event))
  })
}

test('every kind of event stands in one of them', () => {
  const there = new Set(
    Object.keys(released).flatMap((ruleSet) => readGolden(ruleSet).entries.flatMap(({ events }) => events.map(({ type }) => type))),
  )
  expect(DayEvent.options.map((event) => event.shape.type.value).filter((type) => !there.has(type))).toEqual([])
})
