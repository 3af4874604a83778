import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { createServer, type ServerResponse } from 'node:http'
import { type AddressInfo, connect, type Socket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Draft } from '@musterbook/ledger/ledger'
import { openAcademy } from '../../ops/academy.ts'
import type { Result } from './measure.ts'

const screens = 500
const rounds = 7
const messagesARound = 4
const aim = 2

/**
 * From an entry that is durable in the ledger to five hundred screens: holds and stops, which wait for nothing. Against a plain server of
 * server-sent events in this same process that writes the same text to as many readers. Readers and both servers share one event loop, so the
 * reading costs both the same.
 */
export async function liveView(progress: (what: string) => void): Promise<Result> {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const { house, desk, dayId } = await openAcademy({
    data: join(folder, 'data'),
    keyFile: join(folder, 'keys', 'site.key'),
    speed: 1,
    port: 0,
    host: '127.0.0.1',
    lockAfterMs: 3_600_000,
    pinCost: 2 ** 10,
  })
  const plain = await plainServer()
  const ours = await readers(house.port, `/api/days/${dayId}/live/safety/all?differences=patch`, desk.cookieHeader())
  const raw = await readers(plain.port, '/', '')
  const stream = `day/${dayId}`

  const viaLedger = async (number: number): Promise<number[]> => {
    const { version } = await house.ledger.head(stream)
    const answer = await house.ledger.append(stream, version, urgent(number, house.clock.now()))
    const durable = performance.now()
    if (!('appended' in answer)) throw new Error(`not appended: ${JSON.stringify(answer)}`)
    return (await heardOf(ours, `id: ${version + 1}\n`)).map((at) => at - durable)
  }
  const viaPlain = async (number: number): Promise<number[]> => {
    const { text } = ours[0]!
    const begun = performance.now()
    plain.send(`id: r${number}\ndata: ${text}\n\n`)
    return (await heardOf(raw, `id: r${number}\n`)).map((at) => at - begun)
  }

  try {
    const measured: { ours: number; raw: number }[] = []
    for (let round = 0, number = 0; round <= rounds; round++) {
      const times = { ours: [] as number[], raw: [] as number[] }
      for (let message = 0; message < messagesARound; message++, number++) {
        times.ours.push(...(await viaLedger(number)))
        times.raw.push(...(await viaPlain(number)))
      }
      if (round > 0) measured.push({ ours: p99(times.ours), raw: p99(times.raw) })
      progress(`round ${round} of ${rounds}`)
    }
    const ratios = measured.map((each) => each.ours / each.raw)
    const ratio = median(ratios)
    return {
      name: 'liveView',
      what: `durable entry to ${screens} screens, holds and stops, 99th percentile`,
      against: `raw server-sent events of the same text to ${screens} readers`,
      unit: 'ms',
      ours: median(measured.map((each) => each.ours)),
      raw: median(measured.map((each) => each.raw)),
      ratio,
      ratios,
      aim,
      better: 'lower',
      holds: ratio <= aim,
    }
  } finally {
    for (const { socket } of [...ours, ...raw]) socket.destroy()
    await plain.close()
    await house.close()
    rmSync(folder, { recursive: true })
  }
}

/** A hold and its lifting by turns, so that the view does not grow without end. */
function urgent(number: number, now: number): Draft {
  const holdId = `hold-${Math.floor(number / 2)}`
  const event =
    number % 2 === 0
      ? { type: 'holdRaised', holdId, kind: 'other', zoneId: null, raisedBy: 'person', readingId: null, underWay: [] }
      : { type: 'holdLifted', holdId, proposedBy: 'rashid', readingId: null }
  return {
    meta: {
      commandId: randomUUID(),
      command: 'raiseHold',
      bodyDigest: '0'.repeat(64),
      personId: 'rashid',
      deviceId: 'safety-1',
      deviceSequence: number,
      occurredAt: Math.floor(now),
      steadyMs: null,
      offsetMs: 0,
      bandMs: 0,
      seenVersion: 0,
    },
    recordedAt: Math.floor(now),
    events: [event],
  }
}

interface Reader {
  socket: Socket
  /** The data of the last whole event. */
  text: string
  /** Answers when an event with that first line has come whole. */
  waitFor(line: string): Promise<number>
}

/** Connected, and each has heard the first event. */
async function readers(port: number, path: string, cookie: string): Promise<Reader[]> {
  const all: Reader[] = []
  for (let index = 0; index < screens; index++) {
    const made = reader(port, path, cookie)
    await made.waitFor('id: ')
    all.push(made)
  }
  return all
}

function reader(port: number, path: string, cookie: string): Reader {
  const socket = connect(port, '127.0.0.1')
  let heard = ''
  let waiting: { line: string; tell: (at: number) => void } | undefined
  const made: Reader = {
    socket,
    text: '',
    waitFor: (line) =>
      new Promise((tell) => {
        waiting = { line, tell }
        look()
      }),
  }
  const look = () => {
    if (!waiting) return
    const from = heard.indexOf(waiting.line)
    const end = from < 0 ? -1 : heard.indexOf('\n\n', from)
    if (end < 0) return
    const { tell } = waiting
    waiting = undefined
    made.text = /data: (.*)/.exec(heard.slice(from, end))?.[1] ?? ''
    heard = ''
    tell(performance.now())
  }
  socket.setEncoding('latin1').on('data', (chunk: string) => {
    heard += chunk
    look()
  })
  // Destroyed at the end, with the server still writing.
  socket.on('error', () => {})
  socket.write(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nCookie: ${cookie}\r\n\r\n`)
  return made
}

function heardOf(all: readonly Reader[], line: string): Promise<number[]> {
  const late = new Promise<never>((_, reject) => setTimeout(reject, 20_000, new Error(`not every screen heard "${line.trim()}"`)).unref())
  return Promise.race([Promise.all(all.map((one) => one.waitFor(line))), late])
}

async function plainServer() {
  const open = new Set<ServerResponse>()
  const server = createServer((_, response) => {
    response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' })
    response.write('id: first\ndata: {}\n\n')
    open.add(response)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return {
    port: (server.address() as AddressInfo).port,
    send: (text: string) => open.forEach((response) => response.write(text)),
    close: () => {
      server.closeAllConnections()
      return new Promise((resolve) => server.close(resolve))
    },
  }
}

const sorted = (values: readonly number[]) => [...values].sort((one, other) => one - other)
const p99 = (values: readonly number[]) => sorted(values)[Math.floor(values.length * 0.99)]!
const median = (values: readonly number[]) => sorted(values)[Math.floor(values.length / 2)]!
