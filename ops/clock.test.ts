import { draft } from '@musterbook/ledger/controls'
import { memoryLedger } from '@musterbook/ledger/memory'
import { expect, test } from 'vitest'
import { houseClock, newestRecordedAt } from './clock.ts'

test('at speed 1 it is the machine’s, and real days may be opened', () => {
  const clock = houseClock({ speed: 1, notBefore: 9e15 })
  expect(Math.abs(clock.now() - Date.now())).toBeLessThan(50)
  expect(clock.rehearsalOnly).toBe(false)
})

test('at another speed, or from another day, only rehearsals may be opened', () => {
  expect(houseClock({ speed: 60, notBefore: 0 }).rehearsalOnly).toBe(true)
  expect(houseClock({ speed: 1, startsAt: 0, notBefore: 0 }).rehearsalOnly).toBe(true)
})

test('runs at its speed and never back behind what the ledger has written', async () => {
  const clock = houseClock({ speed: 1000, startsAt: 1_000, notBefore: 50_000 })
  const first = clock.now()
  expect(first).toBeGreaterThanOrEqual(50_000)
  await new Promise((resolve) => setTimeout(resolve, 20))
  expect(clock.now() - first).toBeGreaterThan(15_000)
})

test('the newest entry of any stream says how far the clock had come', async () => {
  const ledger = memoryLedger()
  expect(await newestRecordedAt(ledger)).toBe(0)
  await ledger.append('day/1', 0, { ...draft('a'), recordedAt: 500 })
  await ledger.append('site/1', 0, { ...draft('b'), recordedAt: 700 })
  await ledger.append('day/1', 1, { ...draft('c'), recordedAt: 600 })
  expect(await newestRecordedAt(ledger)).toBe(700)
})
