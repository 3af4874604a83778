import type { View } from '@musterbook/vocabulary/ports'

/**
 * Hands on the newest row at most once in `gapMs`, skipping what was overtaken meanwhile; a row that `isUrgent` against the
 * one handed on before goes at once. Reading never waits for the slow side: it always holds the newest.
 */
export async function* paced(
  rows: AsyncIterable<View>,
  { gapMs, isUrgent, signal }: { gapMs: number; isUrgent: (before: View | undefined, now: View) => boolean; signal: AbortSignal },
): AsyncGenerator<View> {
  let newest: View | undefined
  let before: View | undefined
  let ended = false
  let failure: unknown
  let wake = () => {}

  const reading = (async () => {
    for await (const row of rows) {
      newest = row
      wake()
    }
  })()
    .catch((error: unknown) => {
      failure = error
    })
    .finally(() => {
      ended = true
      wake()
    })

  const woken = (ms?: number) =>
    new Promise<void>((resolve) => {
      const timer = ms === undefined ? undefined : setTimeout(done, ms)
      function done() {
        clearTimeout(timer)
        signal.removeEventListener('abort', done)
        wake = () => {}
        resolve()
      }
      wake = done
      signal.addEventListener('abort', done, { once: true })
    })

  while (!signal.aborted) {
    if (newest === undefined) {
      if (ended) break
      await woken()
      continue
    }
    const row = newest
    newest = undefined
    yield row
    before = row

    const until = performance.now() + gapMs
    while (!signal.aborted && !ended && !(newest && isUrgent(before, newest))) {
      const left = until - performance.now()
      if (left <= 0) break
      await woken(left)
    }
  }
  if (!signal.aborted) await reading
  if (failure !== undefined && !signal.aborted) throw failure
}
