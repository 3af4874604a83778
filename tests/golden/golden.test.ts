import { expect, test } from 'vitest'
import { canonical } from '@musterbook/evidence/canonical'
import { DayEvent } from '@musterbook/vocabulary/events'
import { readGolden, recordHash } from './golden.ts'

/** Every rule set that was ever released: days pinned to one must fold to the same records for as long as anybody may ask. */
const released = ['muster-1']

for (const ruleSet of released) {
  const { head, entries } = readGolden(ruleSet)

  test(`${ruleSet}: folds to the records that it had when it was released`, () => {
    expect(head.ruleSet).toBe(ruleSet)
    expect(entries).toHaveLength(head.entries)
    expect(recordHash(entries)).toBe(head.recordHash)
  })

  test(`${ruleSet}: a value of one event moves the hash`, () => {
    const bent = JSON.parse(JSON.stringify(entries).replace('"amount":1712', '"amount":1713')) as typeof entries
    expect(recordHash(bent)).not.toBe(head.recordHash)
  })

  test(`${ruleSet}: every event reads as today's schemas have it, nothing added and nothing lost`, () => {
    for (const event of entries.flatMap((entry) => entry.events)) expect(canonical(DayEvent.parse(event))).toBe(canonical(event))
  })

  test(`${ruleSet}: every kind of event stands in it`, () => {
    const there = new Set(entries.flatMap((entry) => entry.events.map((event) => event.type)))
    expect(DayEvent.options.map((event) => event.shape.type.value).filter((type) => !there.has(type))).toEqual([])
  })
}
