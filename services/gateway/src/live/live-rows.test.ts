import type { View } from '@musterbook/vocabulary/ports'
import fc from 'fast-check'
import { applyPatch, type Operation } from 'fast-json-patch'
import { expect, test } from 'vitest'
import { LiveRows, type Joining } from './live-rows.ts'

/** One row that is told from outside, and how often it was followed. */
function told() {
  const waiting: View[] = []
  let wake = () => {}
  const source = {
    followed: 0,
    tell(version: number, body: unknown) {
      waiting.push({ version, body })
      wake()
    },
    async *watch(_day: string, _view: string, _key: string, signal: AbortSignal): AsyncGenerator<View> {
      source.followed++
      signal.addEventListener('abort', () => wake())
      while (!signal.aborted) {
        const next = waiting.shift()
        if (next) yield next
        else await new Promise<void>((resolve) => (wake = resolve))
      }
    },
  }
  return source
}

const name = { dayId: 'd', view: 'safety', key: 'all' } as const
const anew: Joining = { seen: 0, differences: true, ended: null }
const rowsOf = (source: ReturnType<typeof told>) =>
  new LiveRows({
    views: source,
    onBeat: () => {},
    onBroken: (error) => {
      throw error
    },
  })
/** What holds and stops are in it is never paced. */
const holding = (...holds: string[]) => ({ holds, stops: [], filler: 'x'.repeat(500) })

interface Heard {
  readonly name: string
  readonly id: number
  readonly data: { body?: unknown; from?: number; patch?: Operation[] }
}

/** The events of a stream, one at a time; how often it is to try again is left out. */
function listen(stream: ReadableStream<Uint8Array>) {
  const reader = stream.getReader()
  const next = async (): Promise<Heard> => {
    const { value } = await reader.read()
    const text = new TextDecoder().decode(value)
    const id = /^id: (\d+)$/m.exec(text)?.[1]
    if (id === undefined) return next()
    return { name: /^event: (\w+)$/m.exec(text)?.[1] ?? 'message', id: Number(id), data: JSON.parse(/^data: (.*)$/m.exec(text)![1]!) }
  }
  return { next, leave: () => reader.cancel() }
}

test('is followed once for all its readers, and not at all once the last has gone', async () => {
  const source = told()
  const rows = rowsOf(source)
  const readers = Array.from({ length: 5 }, () => listen(rows.join(name, anew)))
  source.tell(1, holding())
  for (const reader of readers) expect(await reader.next()).toMatchObject({ name: 'message', id: 1, data: { body: holding() } })
  expect(source.followed).toBe(1)

  await Promise.all(readers.map((reader) => reader.leave()))
  const again = listen(rows.join(name, anew))
  source.tell(2, holding('h1'))
  expect((await again.next()).id).toBe(2)
  expect(source.followed).toBe(2)
})

test('what changed is sent as a difference to whoever was sent what it follows from, and whole to everybody else', async () => {
  const source = told()
  const rows = rowsOf(source)
  const screen = listen(rows.join(name, anew))
  const plain = listen(rows.join(name, { ...anew, differences: false }))
  source.tell(1, holding())
  await screen.next()
  await plain.next()
  const resumed = listen(rows.join(name, { ...anew, seen: 1 }))
  const behind = listen(rows.join(name, { ...anew, seen: 99 }))
  expect((await behind.next()).id).toBe(1)

  source.tell(2, holding('h1'))
  const patch = [{ op: 'add', path: '/holds/0', value: 'h1' }]
  expect(await screen.next()).toEqual({ name: 'difference', id: 2, data: { from: 1, version: 2, patch } })
  expect(await behind.next()).toMatchObject({ name: 'difference', id: 2 })
  expect(await plain.next()).toMatchObject({ name: 'message', id: 2, data: { body: holding('h1') } })
  // It said that it had version 1; whether that was the same is not known.
  expect(await resumed.next()).toMatchObject({ name: 'message', id: 2 })
  source.tell(3, holding())
  expect(await resumed.next()).toMatchObject({ name: 'difference', id: 3 })
})

test('a reader who does not read is left alone, and gets the newest whole when it comes back', async () => {
  const source = told()
  const rows = rowsOf(source)
  const slow = listen(rows.join(name, anew))
  const quick = listen(rows.join(name, anew))
  for (let version = 1; version <= 30; version++) {
    source.tell(version, holding(`h${version}`))
    expect((await quick.next()).id).toBe(version)
  }
  const heard: Heard[] = []
  do heard.push(await slow.next())
  while (heard.at(-1)!.id < 30)
  expect(heard.length).toBeLessThan(12)
  expect(heard.at(-1)).toMatchObject({ name: 'message', data: { body: holding('h30') } })
})

test('ends for one reader when who reads may see it no longer', async () => {
  const source = told()
  const rows = rowsOf(source)
  const session = new AbortController()
  const locked = rows.join(name, { ...anew, ended: session.signal }).getReader()
  const other = listen(rows.join(name, anew))
  session.abort()
  await locked.read()
  expect(await locked.read()).toMatchObject({ done: true })
  source.tell(1, holding())
  expect((await other.next()).id).toBe(1)
})

test('whatever a row becomes, its differences lead there', async () => {
  const body = fc.dictionary(fc.string(), fc.jsonValue({ maxDepth: 3 }), { noNullPrototype: true })
  await fc.assert(
    fc.asyncProperty(fc.array(body, { minLength: 2, maxLength: 5 }), async (bodies) => {
      const source = told()
      const reader = listen(rowsOf(source).join(name, anew))
      let shown: unknown
      for (const [index, one] of bodies.entries()) {
        const now = JSON.parse(JSON.stringify({ ...one, holds: [index], stops: [] })) as object
        source.tell(index + 1, now)
        const { data } = await reader.next()
        shown = data.patch ? applyPatch(shown, data.patch, false, false).newDocument : data.body
        expect(shown).toEqual(now)
      }
      await reader.leave()
    }),
    { numRuns: 60 },
  )
})
