import { chainFault, genesis } from '@musterbook/evidence/chain'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { draft } from './controls.ts'
import type { AppendAnswer, Draft, Entry, Ledger, StreamName } from './ledger.ts'

export interface Mounted {
  ledger: Ledger
  /** A second, independent way in to the same streams, as another process would have it; undefined where there can be none. */
  second?: Ledger
  /** Opens the ledger from a second process's point of view, where that must be refused. */
  refused?: () => unknown
  close: () => Promise<void>
}

let streamsMade = 0
const stream = (): StreamName => `day/${process.pid}-${++streamsMade}`

/** What every ledger promises. One line mounts it: `ledgerContract('memory', async () => …)`. */
export function ledgerContract(name: string, mount: () => Promise<Mounted>): void {
  describe(`the ledger's promise, kept by ${name}`, () => {
    let mounted: Mounted
    let ledger: Ledger
    beforeAll(async () => {
      mounted = await mount()
      ledger = mounted.ledger
    })
    afterAll(() => mounted.close())

    test('a new stream is empty', async () => {
      const day = stream()
      expect(await ledger.head(day)).toEqual({ stream: day, version: 0, hash: genesis, sealed: false })
      expect(await all(ledger.read(day, 0))).toEqual([])
      expect(await ledger.find(day, 'c1')).toBeUndefined()
    })

    test('entries are numbered from 1 without gaps, chained, and read back as they were added', async () => {
      const day = stream()
      const drafts = [
        draft('c1'),
        draft('c2', {
          events: [
            { type: 'a', text: 'é 😀 \u0000' },
            { type: 'b', amount: 0.1 },
          ],
        }),
        draft('c3'),
      ]
      const answers = [
        await ledger.append(day, 0, drafts[0]!),
        await ledger.append(day, 1, drafts[1]!),
        await ledger.append(day, 2, drafts[2]!),
      ]
      const entries = await all(ledger.read(day, 0))
      expect(answers).toEqual(entries.map((appended) => ({ appended, toldTwice: false })))
      expect(entries).toEqual(drafts.map((each, index) => ({ ...each, ...place(entries, index, day) })))
      expect(entries.map((entry, index) => chainFault(entries[index - 1], entry))).toEqual([undefined, undefined, undefined])
      expect(await ledger.head(day)).toEqual({ stream: day, version: 3, hash: entries[2]!.hash, sealed: false })
    })

    test('reads on from any version', async () => {
      const day = stream()
      await fill(ledger, day, 5)
      expect(await versions(ledger.read(day, 3))).toEqual([4, 5])
      expect(await versions(ledger.read(day, 5))).toEqual([])
      expect(await versions(ledger.read(day, 9))).toEqual([])
    })

    test('a long stream is read whole and in order', async () => {
      const day = stream()
      await fill(ledger, day, 1_200)
      expect(await versions(ledger.read(day, 0))).toEqual(Array.from({ length: 1_200 }, (_, index) => index + 1))
    }, 60_000)

    test('of racers on one version exactly one wins, and the losers are told the head', async () => {
      const day = stream()
      await fill(ledger, day, 1)
      for (let round = 1; round <= 3; round++) {
        const answers = await Promise.all(
          Array.from({ length: 25 }, (_, racer) => {
            const way = racer % 2 === 1 && mounted.second ? mounted.second : ledger
            return way.append(day, round, draft(`round-${round}-racer-${racer}`))
          }),
        )
        const won = answers.filter((answer) => 'appended' in answer)
        expect(won).toHaveLength(1)
        const head = await ledger.head(day)
        expect(head.version).toBe(round + 1)
        expect(answers.filter((answer) => !('appended' in answer))).toEqual(Array.from({ length: 24 }, () => ({ lostRace: head })))
      }
    })

    test('a version that is not there yet loses as well', async () => {
      const day = stream()
      expect(await ledger.append(day, 4, draft('c1'))).toEqual({ lostRace: await ledger.head(day) })
      expect((await ledger.head(day)).version).toBe(0)
    })

    test('callers who try again after each lost race all get in, each exactly once', async () => {
      const day = stream()
      const ways = [ledger, mounted.second ?? ledger]
      await Promise.all(Array.from({ length: 12 }, (_, caller) => persist(ways[caller % 2]!, day, draft(`caller-${caller}`))))
      const entries = await all(ledger.read(day, 0))
      expect(entries.map((entry) => entry.meta.commandId).sort()).toEqual(
        Array.from({ length: 12 }, (_, caller) => `caller-${caller}`).sort(),
      )
    })

    test('a command told twice gets its first answer, whatever version is expected', async () => {
      const day = stream()
      const first = appended(await ledger.append(day, 0, draft('c1')))
      await ledger.append(day, 1, draft('c2'))
      for (const expected of [0, 1, 2, 7]) {
        expect(await ledger.append(day, expected, { ...draft('c1'), recordedAt: 99 })).toEqual({ appended: first, toldTwice: true })
      }
      expect((await ledger.head(day)).version).toBe(2)
    })

    test('a command told twice in the same moment is kept once', async () => {
      const day = stream()
      const way = mounted.second ?? ledger
      const answers = await Promise.all([
        ledger.append(day, 0, draft('c1')),
        way.append(day, 0, draft('c1')),
        ledger.append(day, 0, draft('c1')),
      ])
      expect(new Set(answers.map((answer) => appended(answer).hash)).size).toBe(1)
      expect(answers.filter((answer) => !(answer as { toldTwice: boolean }).toldTwice)).toHaveLength(1)
      expect((await ledger.head(day)).version).toBe(1)
    })

    test('a command told again after its answer was lost is found, by another way in as well', async () => {
      const day = stream()
      await fill(ledger, day, 2)
      const silent = ledger.append(day, 2, draft('c-lost')) // The caller stopped listening: a timeout with effect.
      await silent.catch(() => {})
      const way = mounted.second ?? ledger
      const again = await way.append(day, 2, draft('c-lost'))
      expect(again).toMatchObject({ toldTwice: true, appended: { version: 3 } })
      expect((await way.head(day)).version).toBe(3)
    })

    test('the same command id with another body is refused with the entry that has it', async () => {
      const day = stream()
      const first = appended(await ledger.append(day, 0, draft('c1')))
      const other = draft('c1', { events: [{ type: 'lapCrossed', studentId: 'student-13' }] })
      expect(await ledger.append(day, 1, other)).toEqual({ commandIdReused: first })
      expect(await (mounted.second ?? ledger).append(day, 1, other)).toEqual({ commandIdReused: first })
      expect((await ledger.head(day)).version).toBe(1)
    })

    test('the same command id in another stream is another command', async () => {
      const [one, other] = [stream(), stream()]
      expect(appended(await ledger.append(one, 0, draft('c1'))).version).toBe(1)
      expect(appended(await ledger.append(other, 0, draft('c1'))).version).toBe(1)
    })

    test('finds the entry of a command', async () => {
      const day = stream()
      await fill(ledger, day, 3)
      expect((await ledger.find(day, 'fill-2'))?.version).toBe(2)
      expect(await ledger.find(day, 'fill-9')).toBeUndefined()
      expect(await ledger.find(stream(), 'fill-2')).toBeUndefined()
    })

    test('a sealed stream takes no more, goes on being read, and still knows what it was told', async () => {
      const day = stream()
      await fill(ledger, day, 2)
      const head = await ledger.head(day)
      expect(await ledger.seal(day, head)).toEqual({ ...head, sealed: true })
      expect(await ledger.append(day, 2, draft('late'))).toEqual({ sealed: { ...head, sealed: true } })
      expect(await (mounted.second ?? ledger).append(day, 2, draft('late'))).toEqual({ sealed: { ...head, sealed: true } })
      expect(await ledger.append(day, 2, draft('fill-1'))).toMatchObject({ toldTwice: true, appended: { version: 1 } })
      expect(await ledger.seal(day, head)).toEqual({ ...head, sealed: true })
      expect(await ledger.head(day)).toEqual({ ...head, sealed: true })
      expect(await versions(ledger.read(day, 0))).toEqual([1, 2])
    })

    test('a stream that has moved on is not sealed', async () => {
      const day = stream()
      await fill(ledger, day, 1)
      const old = await ledger.head(day)
      await ledger.append(day, 1, draft('c2'))
      expect(await ledger.seal(day, old)).toMatchObject({ version: 2, sealed: false })
      expect(appended(await ledger.append(day, 2, draft('c3'))).version).toBe(3)
    })

    test('a stream that holds nothing cannot be sealed', async () => {
      const day = stream()
      await expect(ledger.seal(day, await ledger.head(day))).rejects.toThrow('holds nothing yet')
    })

    test('an entry without events is refused and spoils nothing', async () => {
      const day = stream()
      const answers = await Promise.allSettled([ledger.append(day, 0, draft('empty', { events: [] })), ledger.append(day, 0, draft('c1'))])
      expect(answers[0]).toMatchObject({ status: 'rejected' })
      expect(answers[1]).toMatchObject({ status: 'fulfilled', value: { toldTwice: false } })
    })

    test('what JSON cannot say is refused and spoils nothing', async () => {
      const day = stream()
      const unsayable = draft('unsayable', { meta: { bodyDigest: 'x' }, events: [{ type: 'a', at: 1 }] })
      const answers = await Promise.allSettled([
        ledger.append(day, 0, { ...unsayable, events: [{ type: 'a', at: Number.NaN }] }),
        ledger.append(day, 0, draft('c1')),
      ])
      expect(answers.map((answer) => answer.status)).toEqual(['rejected', 'fulfilled'])
    })

    test('lists the streams under a prefix with their heads, by name', async () => {
      const day = stream()
      const names = [`${day}/a`, `${day}/b`, `${day}/é "*>.x`]
      for (const [index, name] of names.entries()) await fill(ledger, name, index + 1)
      await fill(ledger, `after-${day}`, 1)
      expect((await ledger.streams(`${day}/`)).map((head) => [head.stream, head.version])).toEqual(
        names.map((name, index) => [name, index + 1]),
      )
      expect(await ledger.streams(`${day}/none`)).toEqual([])
    })

    test('follows from the versions seen, then live, new streams included, each stream in its own order', async () => {
      const base = stream()
      const [known, fresh, other] = [`${base}/known`, `${base}/fresh`, `not-${base}`]
      await fill(ledger, known, 3)
      const ended = new AbortController()
      const followed: Entry[] = []
      const following = (async () => {
        for await (const entry of ledger.follow(`${base}/`, new Map([[known, 1]]), ended.signal)) {
          followed.push(entry)
          if (followed.length === 7) ended.abort()
        }
      })()
      await fill(ledger, known, 2, 3)
      await fill(ledger, other, 1)
      await fill(mounted.second ?? ledger, fresh, 3)
      await following
      expect(followed.filter((entry) => entry.stream === known).map((entry) => entry.version)).toEqual([2, 3, 4, 5])
      expect(followed.filter((entry) => entry.stream === fresh).map((entry) => entry.version)).toEqual([1, 2, 3])
      expect(followed).toHaveLength(7)
    })

    test('a follower that is slow loses nothing and doubles nothing', async () => {
      const base = stream()
      const ended = new AbortController()
      const followed: number[] = []
      await fill(ledger, base, 1)
      const following = (async () => {
        for await (const entry of ledger.follow(base, new Map(), ended.signal)) {
          followed.push(entry.version)
          if (followed.length === 1) await fill(ledger, base, 1_500, 1) // More than any follower keeps in memory.
          if (followed.length === 1_501) ended.abort()
        }
      })()
      await following
      expect(followed).toEqual(Array.from({ length: 1_501 }, (_, index) => index + 1))
    }, 60_000)

    test('a follower that is done lets go at once', async () => {
      const base = stream()
      await fill(ledger, base, 1)
      const ended = new AbortController()
      const following = all(ledger.follow(`${base}-nothing`, new Map(), ended.signal))
      setTimeout(() => ended.abort(), 20)
      expect(await following).toEqual([])
      const gone = new AbortController()
      gone.abort()
      expect(await all(ledger.follow(base, new Map(), gone.signal))).toEqual([])
    })

    test('an entry that was handed out cannot be bent by changing what went in', async () => {
      const day = stream()
      const events = [{ type: 'lapCrossed', laps: [1] }]
      const answer = appended(await ledger.append(day, 0, draft('c1', { events })))
      events[0]!.laps.push(2)
      expect(answer.events).toEqual([{ type: 'lapCrossed', laps: [1] }])
      expect((await all(ledger.read(day, 0)))[0]!.events).toEqual([{ type: 'lapCrossed', laps: [1] }])
    })

    test('a second process is refused with a sentence, where the ledger has one writer', async () => {
      const { refused } = mounted
      if (refused) expect(() => refused()).toThrow(/already being written by another process\. Stop that one first/)
      else expect(appended(await (mounted.second ?? ledger).append(stream(), 0, draft('c1'))).version).toBe(1)
    })
  })
}

/** Adds `count` entries from `after`, in flight together where the ledger lets them be. */
async function fill(ledger: Ledger, name: StreamName, count: number, after = 0): Promise<void> {
  for (let version = after; version < after + count; version++) appended(await ledger.append(name, version, draft(`fill-${version + 1}`)))
}

async function persist(ledger: Ledger, name: StreamName, what: Draft): Promise<Entry> {
  for (;;) {
    const answer = await ledger.append(name, (await ledger.head(name)).version, what)
    if ('appended' in answer) return answer.appended
    if (!('lostRace' in answer)) throw new Error(`refused: ${JSON.stringify(answer)}`)
  }
}

function appended(answer: AppendAnswer): Entry {
  if (!('appended' in answer)) throw new Error(`not appended: ${JSON.stringify(answer)}`)
  return answer.appended
}

function place(entries: readonly Entry[], index: number, day: StreamName) {
  return { stream: day, version: index + 1, prevHash: entries[index - 1]?.hash ?? genesis, hash: entries[index]!.hash }
}

async function all(entries: AsyncIterable<Entry>): Promise<Entry[]> {
  const list: Entry[] = []
  for await (const entry of entries) list.push(entry)
  return list
}

async function versions(entries: AsyncIterable<Entry>): Promise<number[]> {
  return (await all(entries)).map((entry) => entry.version)
}
