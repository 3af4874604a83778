import type { View } from '@musterbook/vocabulary/ports'
import { expect, test } from 'vitest'
import { paced } from './paced.ts'

const never = () => false

/** Rows that are told from outside. */
function told() {
  const waiting: View[] = []
  let wake = () => {}
  let ended = false
  return {
    tell(version: number, body: unknown = null) {
      waiting.push({ version, body })
      wake()
    },
    end() {
      ended = true
      wake()
    },
    async *rows(): AsyncGenerator<View> {
      for (;;) {
        const next = waiting.shift()
        if (next) yield next
        else if (ended) return
        else await new Promise<void>((resolve) => (wake = resolve))
      }
    },
  }
}

test('the first row goes at once; what is overtaken within the gap is skipped', async () => {
  const source = told()
  const rows = paced(source.rows(), { gapMs: 100, isUrgent: never, signal: new AbortController().signal })
  source.tell(1)
  const begun = performance.now()
  expect((await rows.next()).value?.version).toBe(1)
  expect(performance.now() - begun).toBeLessThan(60)
  for (const version of [2, 3, 4]) source.tell(version)
  expect((await rows.next()).value?.version).toBe(4)
  expect(performance.now() - begun).toBeGreaterThanOrEqual(95)
})

test('what is urgent does not wait for the gap', async () => {
  const source = told()
  const isUrgent = (before: View | undefined, now: View) => before?.body !== now.body
  const rows = paced(source.rows(), { gapMs: 5_000, isUrgent, signal: new AbortController().signal })
  source.tell(1, 'no hold')
  await rows.next()
  const begun = performance.now()
  const next = rows.next()
  source.tell(2, 'no hold')
  source.tell(3, 'hold')
  expect((await next).value?.version).toBe(3)
  expect(performance.now() - begun).toBeLessThan(1_000)
})

test('a reader that is slow gets the newest when it comes back, and nothing waited for it', async () => {
  const source = told()
  const rows = paced(source.rows(), { gapMs: 0, isUrgent: never, signal: new AbortController().signal })
  source.tell(1)
  await rows.next()
  for (let version = 2; version <= 1_000; version++) source.tell(version)
  await new Promise((resolve) => setTimeout(resolve, 30))
  expect((await rows.next()).value?.version).toBe(1_000)
})

test('ends when the rows end, with what is left, and when the signal aborts', async () => {
  const source = told()
  const rows = paced(source.rows(), { gapMs: 0, isUrgent: never, signal: new AbortController().signal })
  source.tell(1)
  await rows.next()
  source.tell(2)
  source.end()
  expect((await rows.next()).value?.version).toBe(2)
  expect((await rows.next()).done).toBe(true)

  const stop = new AbortController()
  const stopped = paced(told().rows(), { gapMs: 0, isUrgent: never, signal: stop.signal })
  const next = stopped.next()
  stop.abort()
  expect((await next).done).toBe(true)
})

test('a fault of the rows is the reader’s to hear', async () => {
  async function* broken(): AsyncGenerator<View> {
    yield { version: 1, body: null }
    throw new Error('the projection stopped')
  }
  const rows = paced(broken(), { gapMs: 0, isUrgent: never, signal: new AbortController().signal })
  await rows.next()
  await expect(rows.next()).rejects.toThrow('the projection stopped')
})
