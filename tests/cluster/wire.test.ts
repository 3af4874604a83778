import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { checksIn } from '@musterbook/day/controls'
import type { Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { driven, smallViews, write } from '@musterbook/projections/controls'
import { serveProjections, viewsOverNats } from '@musterbook/projections/over-nats'
import { openProjections, type Projections } from '@musterbook/projections/projections'
import type { View } from '@musterbook/vocabulary/ports'
import { ask } from '@musterbook/wire/ask'
import { mostBytes, type Question } from '@musterbook/wire/question'
import { serve, type Served } from '@musterbook/wire/serve'
import { connect, type NatsConnection } from '@nats-io/transport-node'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { type NatsCluster, startNats, until } from '../faults/nats-cluster.ts'

let cluster: NatsCluster
const connections: NatsConnection[] = []
beforeAll(async () => {
  cluster = await startNats(1)
})
afterEach(async () => {
  await Promise.all(connections.splice(0).map((connection) => connection.close()))
})
afterAll(() => cluster.stop())
const connected = async () => {
  const connection = await connect(cluster.connection)
  connections.push(connection)
  return connection
}
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

describe('a question and its answer over NATS', () => {
  const twice: Question<{ number: number }, number> = {
    subject: 'test.twice',
    asked: z.strictObject({ number: z.int() }),
    said: z.number(),
    withinMs: 300,
    patienceMs: 2_000,
  }
  const serving = async (answer: (asked: { number: number }) => Promise<number>, atOnce?: number) => {
    const connection = await connected()
    const served = serve(connection, twice, { queue: 'test', answer, ...(atOnce !== undefined && { atOnce }) })
    await connection.flush()
    return { served, connection }
  }

  test('a process that ends before it answers is made up for by another', async () => {
    const asker = await connected()
    const dying = await connected()
    let heard = 0
    dying.subscribe(twice.subject, {
      queue: 'test',
      callback: () => {
        heard += 1
        void dying.close()
      },
    })
    await dying.flush()
    const said = ask(asker, twice, { number: 21 })
    await until(
      () => heard === 1,
      2_000,
      () => 'nobody was asked',
    )
    await serving(async ({ number }) => 2 * number)
    expect(await said).toBe(42)
  })

  test('where nobody answers the outcome is unknown, and that is said', async () => {
    const asker = await connected()
    await expect(ask(asker, { ...twice, patienceMs: 200 }, { number: 1 })).rejects.toThrow('send it again under the same command id')
    await serving(() => new Promise(() => {}))
    await expect(ask(asker, { ...twice, patienceMs: 200 }, { number: 1 })).rejects.toMatchObject({ name: 'OutcomeUnknown' })
  })

  test('what went wrong there keeps its name, and is not asked again', async () => {
    let times = 0
    await serving(async () => {
      times += 1
      throw Object.assign(new Error('entry 7 cannot be read'), { name: 'UnreadableDay' })
    })
    await expect(ask(await connected(), twice, { number: 1 })).rejects.toMatchObject({
      name: 'UnreadableDay',
      message: 'entry 7 cannot be read',
    })
    expect(times).toBe(1)
  })

  test('other words, and too many of them, are refused on both sides', async () => {
    const { connection } = await serving(async ({ number }) => (number === 0 ? ('nought' as never) : number))
    const asker = await connected()
    await expect(ask(asker, twice, { number: 'one' } as never)).rejects.toThrow('was asked in other words')
    await expect(ask(asker, twice, { number: 0 })).rejects.toThrow('was answered in other words')
    await expect(ask(asker, twice, { number: 1, more: 'x'.repeat(mostBytes) } as never)).rejects.toThrow(`takes ${mostBytes} bytes`)
    const long = { ...twice, subject: 'test.long', said: z.string() } as unknown as Question<{ number: number }, string>
    serve(connection, long, { queue: 'test', answer: async () => 'x'.repeat(mostBytes) })
    await connection.flush()
    await expect(ask(asker, long, { number: 1 })).rejects.toThrow(`${mostBytes} are carried`)
    expect((await asker.request(twice.subject, 'not JSON')).json()).toMatchObject({ failed: { name: 'SyntaxError' } })
  })

  test('more than is worked on at once is asked again, and one that closes answers what it has', async () => {
    const { served } = await serving(async ({ number }) => {
      await pause(100)
      return number
    }, 1)
    const asker = await connected()
    expect(await Promise.all([1, 2, 3].map((number) => ask(asker, twice, { number })))).toEqual([1, 2, 3])
    const last = ask(asker, { ...twice, patienceMs: 0 }, { number: 4 })
    await asker.flush()
    await pause(30)
    await served.close()
    expect(await last).toBe(4)
  })
})

describe('read models over NATS', () => {
  let folder: string
  let ledger: Ledger
  const opened: { projections: Projections; served: Served }[] = []
  const views = smallViews()
  const process = async (name: string) => {
    const projections = openProjections({ ledger, file: join(folder, name), views })
    await projections.ready
    const connection = await connected()
    const served = serveProjections(connection, projections)
    await connection.flush()
    const one = { projections, served, end: () => connection.close() }
    opened.push(one)
    return one
  }
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'views-'))
    ledger = memoryLedger()
  })
  afterEach(async () => {
    for (const { projections, served } of opened.splice(0)) {
      await served.close()
      await projections.close()
    }
    await ledger.close()
    rmSync(folder, { recursive: true })
  })
  const { entries } = driven('d1', ['1', '2', '3'], checksIn('1'), checksIn('2'), checksIn('3'))

  test('say what they say in one process, whichever process is asked', async () => {
    const [one] = [await process('a'), await process('b')]
    await write(ledger, entries)
    const far = viewsOverNats(await connected())
    const { version } = await ledger.head('day/d1')
    for (let times = 0; times < 10; times++) {
      expect(await far.get('d1', 'board', 'all', version)).toEqual(await one.projections.get('d1', 'board', 'all', version))
    }
    expect(await far.get('d1', 'nothing', 'all')).toBeUndefined()
    expect(await far.days()).toEqual(await one.projections.days())
    far.close()
  })

  test('a reader is told each change once and never goes back, though a process ends and another begins', async () => {
    const one = await process('a')
    await process('b')
    await write(ledger, entries.slice(0, 1))
    const far = viewsOverNats(await connected())
    const stop = new AbortController()
    const told: View[] = []
    const reading = [1, 2].map(async () => {
      for await (const row of far.watch('d1', 'board', 'all', stop.signal)) told.push(row)
    })
    const here = () => (told.at(-1)?.body as { here: string[] } | undefined)?.here.length
    const sees = (count: number) =>
      until(
        () => here() === count,
        15_000,
        () => `the reader saw ${JSON.stringify(told)}`,
      )
    await sees(0)
    await write(ledger, entries.slice(1, 3))
    await sees(1)
    await one.end()
    await write(ledger, entries.slice(3))
    await process('c')
    await sees(3)
    stop.abort()
    await Promise.all(reading)
    far.close()

    const versions = told.map(({ version }) => version)
    expect(versions).toEqual([...versions].sort((first, second) => first - second))
    // Two readers: each body twice, and no body again after another.
    const bodies = told.map(({ body }) => JSON.stringify(body))
    for (const body of new Set(bodies)) expect(bodies.lastIndexOf(body) - bodies.indexOf(body)).toBe(1)
  })

  test('tell how far they are behind, and that none is heard when none is', async () => {
    const far = viewsOverNats(await connected())
    expect(far.lags()).toMatchObject([{ name: 'projections', stopped: expect.stringContaining('No projections process is heard') }])
    await process('a')
    await write(ledger, entries)
    await until(
      () => far.lags().some(({ name, dayId, behind }) => name === 'board' && dayId === 'd1' && behind === 0),
      10_000,
      () => JSON.stringify(far.lags()),
    )
    far.close()
  })

  test('many days are handed on in parts', async () => {
    const big = 'x'.repeat(200_000)
    const many = { days: async () => Array.from({ length: 9 }, (_, index) => ({ version: index, body: big })), lags: () => [] }
    const connection = await connected()
    const served = serveProjections(connection, many as unknown as Projections)
    await connection.flush()
    const far = viewsOverNats(await connected())
    expect((await far.days()).map(({ version }) => version)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8])
    far.close()
    await served.close()
  })
})
