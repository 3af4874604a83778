import { signal } from '@preact/signals'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Facts } from './facts.ts'
import { openForgetting } from './forgetting.ts'
import type { Store } from './store.ts'

const hour = 3_600_000
const heardAt = 1_800_000_000_000

beforeEach(() => void vi.useFakeTimers({ now: heardAt }))
afterEach(() => void vi.useRealTimers())

/** A tablet that heard the site just now, with what stands in its memory and in its store. */
function tablet(deviceHours?: number) {
  const cleared: string[] = []
  const store = {
    transaction: () => ({ objectStore: (name: string) => ({ clear: () => cleared.push(name) }), done: Promise.resolve() }),
  } as unknown as Store
  const facts = { people: { dayId: 'd', people: [{ name: 'Ada' }] }, staff: [{ personId: 'wren', name: 'Wren' }] } as unknown as Facts
  const lost = signal(true)
  const letGo = vi.fn()
  let heard = heardAt
  const { forgotten } = openForgetting({
    store: Promise.resolve(store),
    facts: Promise.resolve(facts),
    lost,
    days: signal([{ deviceHours }]),
    heardAt: () => heard,
    now: () => Date.now(),
    letGo,
  })
  return { cleared, facts, lost, letGo, forgotten, hears: () => (heard = Date.now()) }
}

test('within its hours an open page keeps the day; past them it lets go of all but what waits to be told, once', async () => {
  const { cleared, facts, letGo, forgotten } = tablet()
  await vi.advanceTimersByTimeAsync(12 * hour)
  expect([letGo.mock.calls.length, forgotten.value, cleared]).toEqual([0, false, []])
  await vi.advanceTimersByTimeAsync(60_000)
  expect([letGo.mock.calls.length, forgotten.value]).toEqual([1, true])
  expect(cleared).toEqual(['facts', 'entries'])
  expect(facts).toEqual({})
  await vi.advanceTimersByTimeAsync(hour)
  expect(letGo).toHaveBeenCalledTimes(1)
})

test('the day’s own hours count where they are fewer; heard again it is forgotten no more, and its hours begin anew', async () => {
  const { letGo, forgotten, lost, hears } = tablet(3)
  await vi.advanceTimersByTimeAsync(3 * hour + 60_000)
  expect([letGo.mock.calls.length, forgotten.value]).toEqual([1, true])
  hears()
  lost.value = false
  expect(forgotten.value).toBe(false)
  await vi.advanceTimersByTimeAsync(3 * hour)
  expect(letGo).toHaveBeenCalledTimes(1)
})
