import type { Draft, Entry, Ledger, StreamName } from '@musterbook/ledger/ledger'
import { Luck } from './luck.ts'
import type { Timeline } from './timeline.ts'

/** One running server process. Once it has crashed, nothing that it awaits is ever answered. */
export interface Process {
  readonly died: AbortSignal
  crash(): void
  /** The next append ends the process, before or after it has its effect. */
  crashAtAppend: 'before' | 'after' | null
}

export function startProcess(onCrash: () => void): Process {
  const end = new AbortController()
  return {
    died: end.signal,
    crashAtAppend: null,
    crash: () => {
      if (end.signal.aborted) return
      end.abort()
      onCrash()
    },
  }
}

/** How often each trouble comes, from 0 to 1. All zero: a quiet day. */
export interface Troubles {
  timeoutWithoutEffect: number
  timeoutWithEffect: number
  /** The append is told to have timed out, and lands all the same a while later. */
  lateEffect: number
  deliveredTwice: number
  slow: number
  staleRead: number
}

/**
 * A ledger as a server sees it over a line that fails. What is acknowledged stands in `truth`; everything else may
 * happen: no effect, an effect without an answer, one that comes late, one that is told twice, reads that lag behind.
 * Heads are asked of whoever leads a stream and are never behind.
 */
export function faultyLedger(truth: Ledger, process: Process, timeline: Timeline, troubles: () => Troubles, seed: string): Ledger {
  let calls = 0
  const asked = new Map<string, number>()
  const gone = () => new Promise<never>(() => {})
  const whileAlive = async <Value>(answer: Promise<Value>): Promise<Value> => {
    const value = await answer
    return process.died.aborted ? gone() : value
  }
  const luckOf = (name: string) => {
    const times = (asked.get(name) ?? 0) + 1
    asked.set(name, times)
    return new Luck(seed, name, times)
  }

  const append = async (stream: StreamName, expected: number, draft: Draft) => {
    const luck = luckOf(draft.meta.commandId)
    const rates = troubles()
    await whileAlive(timeline.wait(luck.is(rates.slow) ? luck.between(50, 3_000) : luck.between(1, 4)))
    const fault = luck.next()
    if (process.crashAtAppend === 'before') process.crash()
    if (process.died.aborted) return gone()
    if (fault < rates.timeoutWithoutEffect) throw new Error('no answer')
    if (fault < rates.timeoutWithoutEffect + rates.lateEffect) {
      timeline.after(luck.between(5, 4_000), () => void truth.append(stream, expected, draft).catch(() => {}))
      throw new Error('no answer yet')
    }
    const first = await truth.append(stream, expected, draft)
    const answer = luck.is(rates.deliveredTwice) ? await truth.append(stream, expected, draft) : first
    if (process.crashAtAppend === 'after') process.crash()
    if (process.died.aborted) return gone()
    if (luck.is(rates.timeoutWithEffect)) throw new Error('no answer')
    if (luck.is(rates.slow)) await timeline.wait(luck.between(5, 500))
    return process.died.aborted ? gone() : answer
  }

  async function* read(stream: StreamName, afterVersion: number): AsyncIterable<Entry> {
    if (process.died.aborted) await gone()
    const luck = new Luck(seed, 'read', stream, afterVersion, calls++)
    const { version } = await truth.head(stream)
    const upTo = luck.is(troubles().staleRead) ? version - luck.between(1, 3) : version
    for await (const entry of truth.read(stream, afterVersion)) {
      if (entry.version > upTo) return
      yield entry
    }
  }

  async function* follow(prefix: string, seen: ReadonlyMap<StreamName, number>, signal: AbortSignal): AsyncIterable<Entry> {
    for await (const entry of truth.follow(prefix, seen, AbortSignal.any([signal, process.died]))) {
      const luck = new Luck(seed, 'follow', entry.stream, entry.version)
      // What the site heard is often told late: a day must ask for it before anything starts outdoors.
      const { slow } = troubles()
      await timeline.wait(
        luck.is(prefix === 'site/' ? 25 * slow : slow) ? luck.between(100, prefix === 'site/' ? 120_000 : 20_000) : luck.between(1, 50),
      )
      if (process.died.aborted) await gone()
      if (signal.aborted) return
      yield entry
      if (luck.is(troubles().deliveredTwice)) yield entry
    }
    if (process.died.aborted) await gone()
  }

  return {
    append,
    read,
    follow,
    head: (stream) => whileAlive(truth.head(stream)),
    streams: (prefix) => whileAlive(truth.streams(prefix)),
    find: (stream, commandId) => whileAlive(truth.find(stream, commandId)),
    seal: async (stream, at) => {
      if (process.crashAtAppend === 'before') process.crash()
      if (process.died.aborted) return gone()
      const head = await truth.seal(stream, at)
      if (process.crashAtAppend === 'after') process.crash()
      return process.died.aborted ? gone() : head
    },
    close: async () => {},
  }
}
