import { createReadStream, existsSync } from 'node:fs'
import { createServer, request, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { Socket } from 'node:net'
import { extname, join } from 'node:path'
import { now } from './clients.ts'
import type { Told } from './history.ts'

/** The act that went over a line, as the site reads it. */
interface Asked {
  dayId: string
  commandId: string
}

export interface LineParts {
  /** Where the site stands. */
  site: string
  /** The built page, which the tablet has from somewhere else: it opens while the site is away. */
  page: string
  random: () => number
  heard: Map<string, Told>
}

const kinds: Record<string, string> = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.woff2': 'font/woff2' }

/**
 * Stands between the tablets and the site, and is the bad Wi-Fi: drops a request before it is out, or its answer; sends one twice at once; and is
 * away for a tablet for as long as it is told. Each tablet comes under a host of its own, so that each has its own storage.
 */
export class TabletLine {
  readonly counted = { sent: 0, cut: 0, doubles: 0, away: 0 }
  readonly #parts: LineParts
  readonly #away = new Set<string>()
  readonly #sockets = new Map<string, Set<Socket>>()
  readonly #server: Server

  constructor(parts: LineParts) {
    this.#parts = parts
    this.#server = createServer((asked, answer) => void this.#hear(asked, answer))
  }

  async open(): Promise<number> {
    await new Promise<void>((resolve) => this.#server.listen(0, '127.0.0.1', resolve))
    return (this.#server.address() as { port: number }).port
  }

  close(): void {
    this.#server.closeAllConnections()
    this.#server.close()
  }

  /** The tablet walks behind the bleachers: what it had open breaks, and nothing goes through until it comes back. */
  leave(host: string): void {
    this.#away.add(host)
    this.counted.away++
    for (const socket of this.#sockets.get(host) ?? []) socket.destroy()
  }

  comeBack(host: string): void {
    this.#away.delete(host)
  }

  async #hear(asked: IncomingMessage, answer: ServerResponse): Promise<void> {
    const host = asked.headers.host!.split(':')[0]!
    this.#knowSocket(host, asked.socket)
    const { pathname } = new URL(asked.url!, 'http://any')
    if (!pathname.startsWith('/api/')) return this.#givePage(pathname, answer)
    if (this.#away.has(host)) return void asked.socket.destroy()
    const parts: Buffer[] = []
    try {
      for await (const part of asked) parts.push(part as Buffer)
    } catch {
      return // It broke while it was being said.
    }
    const body = Buffer.concat(parts)
    const act = actIn(pathname, body)
    if (!act) return void this.#pass(asked, body, answer)
    await this.#passAct(act, asked, body, answer)
  }

  #knowSocket(host: string, socket: Socket): void {
    const sockets = this.#sockets.get(host) ?? new Set()
    if (sockets.has(socket)) return
    this.#sockets.set(host, sockets.add(socket))
    socket.once('close', () => sockets.delete(socket))
  }

  async #passAct({ dayId, commandId }: Asked, asked: IncomingMessage, body: Buffer, answer: ServerResponse): Promise<void> {
    const { random, heard } = this.#parts
    this.counted.sent++
    const isCut = random() < 0.2
    if (isCut) this.counted.cut++
    if (isCut && random() < 0.3) return void asked.socket.destroy()
    const told = heard.get(commandId) ?? { stream: `day/${dayId}`, commandId, askedAt: now() }
    heard.set(commandId, told)
    if (random() < 0.08) {
      this.counted.doubles++
      this.#pass(asked, body)
    }
    if (isCut) {
      this.#pass(asked, body)
      return void setTimeout(() => asked.socket.destroy(), random() * 30)
    }
    const said = await this.#pass(asked, body, answer)
    const recorded = said && (JSON.parse(said) as { recorded?: { version: number; events: unknown[] } }).recorded
    if (recorded && !heard.get(commandId)?.acknowledged)
      heard.set(commandId, { ...told, acknowledged: { at: now(), version: recorded.version, events: recorded.events } })
  }

  /** To the site and, where somebody waits, back again. What went back; undefined where it did not. */
  #pass(asked: IncomingMessage, body: Buffer, answer?: ServerResponse): Promise<string | undefined> {
    const onward = request(this.#parts.site + asked.url!, { method: asked.method!, headers: asked.headers, agent: false })
    return new Promise((resolve) => {
      const broken = () => {
        answer?.destroy()
        resolve(undefined)
      }
      answer?.on('close', () => onward.destroy())
      onward.on('error', broken)
      onward.on('response', (response) => {
        response.on('error', broken)
        if (!answer) return void response.resume().on('end', () => resolve(undefined))
        const said: Buffer[] = []
        answer.writeHead(response.statusCode!, response.headers)
        response.on('data', (part: Buffer) => {
          if (asked.method === 'POST') said.push(part)
          answer.write(part)
        })
        response.on('end', () => answer.end(() => resolve(Buffer.concat(said).toString())))
      })
      onward.end(body)
    })
  }

  #givePage(pathname: string, answer: ServerResponse): void {
    const file = join(this.#parts.page, pathname)
    if (!existsSync(file) || extname(file) === '') return void answer.writeHead(404).end()
    answer.writeHead(200, { 'content-type': kinds[extname(file)] ?? 'application/octet-stream' })
    createReadStream(file).pipe(answer)
  }
}

/** Which act of which day this is, told at its noun or as a kept item; undefined for all else. */
function actIn(pathname: string, body: Buffer): Asked | undefined {
  const inDay = /^\/api\/days\/([^/]+)\/[^/]+$/.exec(pathname)
  if ((!inDay && pathname !== '/api/kept-items') || body.length === 0) return undefined
  const said = JSON.parse(body.toString()) as { dayId?: string; envelope?: { commandId: string } }
  const dayId = said.dayId ?? (inDay && decodeURIComponent(inDay[1]!))
  return said.envelope && dayId ? { dayId, commandId: said.envelope.commandId } : undefined
}
