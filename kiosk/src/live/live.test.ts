import { signal } from '@preact/signals'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { openClock } from './clock.ts'
import { contactAge } from './contact.ts'
import { json, SpokenStream } from './controls.ts'
import { follow, type LiveParts } from './live.ts'
import { applyRow, rowDifferences } from './row.ts'

let streams: SpokenStream[]
const opened = <View>(more: LiveParts<View> = {}) =>
  follow<View>('queue/reach', {
    open: (url) => {
      const stream = new SpokenStream(url)
      streams.push(stream)
      return stream as unknown as EventSource
    },
    steady: () => Date.now(),
    ...more,
  })

beforeEach(() => {
  streams = []
  vi.useFakeTimers()
})
afterEach(() => vi.useRealTimers())

describe('a live view', () => {
  test('is the newest the site said, with its version', () => {
    const live = opened<{ waiting: number }>()
    expect(streams[0]?.url).toBe('/api/live/queue/reach')
    expect(live.view.value).toBeUndefined()
    streams[0]?.hear('message', { waiting: 3 }, '41')
    streams[0]?.hear('message', { waiting: 4 }, '42')
    expect(live.view.value).toEqual({ waiting: 4 })
    expect(live.version.value).toBe('42')
  })

  test('understands the differences it was told of', () => {
    const live = opened<number[]>({
      differences: ['joined'],
      apply: (view = [], data, name) => (name === 'joined' ? [...view, data as number] : (data as number[])),
    })
    streams[0]?.hear('message', [1])
    streams[0]?.hear('joined', 2)
    expect(live.view.value).toEqual([1, 2])
  })

  test('follows the differences of a row, and asks for the whole where one does not follow from what is shown', () => {
    const live = opened<{ holds: string[] }>({ apply: applyRow, differences: rowDifferences })
    const said = (from: number, version: number, path: string, value: string) =>
      streams.at(-1)?.hear('difference', { from, version, patch: [{ op: 'add', path, value }] }, String(version))
    streams[0]?.hear('message', { version: 4, body: { holds: ['h1'] } }, '4')
    const shown = live.view.value
    said(4, 5, '/holds/1', 'h2')
    expect(live.view.value).toEqual({ holds: ['h1', 'h2'] })
    expect(shown).toEqual({ holds: ['h1'] }) // Whoever still draws it sees it as it was.

    said(6, 7, '/holds/0', 'h3')
    expect(live.view.value).toEqual({ holds: ['h1', 'h2'] })
    expect(live.version.value).toBe('5')
    expect(streams[0]?.closed).toBe(true)
    expect(streams).toHaveLength(2)
    streams[1]?.hear('message', { version: 7, body: { holds: ['h3'] } }, '7')
    expect(live.view.value).toEqual({ holds: ['h3'] })
  })

  test('is followed at once by whoever signs on after a lock, and left alone where it still stands', () => {
    const live = opened()
    streams[0]?.hear('message', { waiting: 3 })
    live.again()
    expect(streams).toHaveLength(1)
    streams[0]?.breakOff(true)
    live.again()
    expect(streams).toHaveLength(2)
    vi.advanceTimersByTime(60_000)
    expect(streams).toHaveLength(2)
  })

  test('forgets what it showed, and asks for the whole anew', () => {
    const live = opened()
    streams[0]?.hear('message', { waiting: 3 }, '41')
    live.forget()
    expect([live.view.value, live.version.value]).toEqual([undefined, undefined])
    expect([streams.length, streams[0]?.closed]).toEqual([2, true])
    live.close()
    live.forget()
    expect(streams).toHaveLength(2)
  })

  test('leaves trying again to the browser, and opens anew only when that has given up', () => {
    const live = opened()
    streams[0]?.hear('message', {})
    streams[0]?.breakOff(false)
    vi.advanceTimersByTime(60_000)
    expect(streams).toHaveLength(1)
    expect(live.trying.value).toBe(true)

    streams[0]?.breakOff(true)
    vi.advanceTimersByTime(3_000)
    expect(streams).toHaveLength(2)
    streams[1]?.hear('beat', {})
    expect(live.trying.value).toBe(false)
  })

  test('gives its line back while nobody looks, and is whole again after', () => {
    const resting = signal(false)
    const live = opened<{ waiting: number }>({ resting })
    streams[0]?.hear('message', { waiting: 3 })
    resting.value = true
    expect(streams[0]?.closed).toBe(true)
    vi.advanceTimersByTime(60_000)
    expect(streams).toHaveLength(1)
    expect(live.view.value).toEqual({ waiting: 3 })

    resting.value = false
    streams[1]?.hear('message', { waiting: 4 })
    expect(live.view.value).toEqual({ waiting: 4 })
    live.close()
    resting.value = true
    resting.value = false
    expect(streams).toHaveLength(2)
  })

  test('closed, it stays closed', () => {
    const live = opened()
    live.close()
    streams[0]?.breakOff(true)
    vi.advanceTimersByTime(60_000)
    expect(streams).toHaveLength(1)
    expect(streams[0]?.closed).toBe(true)
  })
})

test('the age of contact grows in silence and starts anew with a beat', async () => {
  vi.setSystemTime(1_000_000)
  const steady = () => Date.now()
  const clock = openClock({ steady, fetch: async () => json(200, { now: Date.now(), speed: 1 }) })
  await clock.measure()
  const hush = clock.run()
  const live = opened()
  const age = contactAge(clock, signal([live]), undefined, steady)
  expect(age.value).toBeUndefined()

  streams[0]?.hear('message', {})
  vi.advanceTimersByTime(65_000)
  expect(age.value).toBe(65_000)
  streams[0]?.hear('beat', {})
  vi.advanceTimersByTime(2_000)
  expect(age.value).toBe(2_000)
  hush()
})
