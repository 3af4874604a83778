import { readFileSync } from 'node:fs'
import { createSecureServer } from 'node:http2'
import type { AddressInfo, Socket } from 'node:net'
import { serve, type ServerType } from '@hono/node-server'
import type { Hono } from 'hono'
import type { HouseEnv } from './http/route.ts'

export interface Tls {
  certificateFile: string
  keyFile: string
}

export interface Listening {
  /** Where it is reached. */
  address: string
  port: number
  /** Readers of live views come back by themselves; everyone else has a moment to get an answer. */
  hangUp(): Promise<void>
}

/**
 * With a certificate over HTTP/2, where all live views of a browser share one line: over HTTP/1.1 it opens six to one server and no more, which a
 * few pages side by side use up. Rejects when the port is taken or the certificate cannot be read. Port 0: any free one. */
export async function listen(
  app: Hono<HouseEnv>,
  { port, host, tls }: { port: number; host: string; tls?: Tls | undefined },
): Promise<Listening> {
  const server = await new Promise<ServerType>((resolve, reject) => {
    const secure = tls && {
      createServer: createSecureServer,
      serverOptions: { cert: readFileSync(tls.certificateFile), key: readFileSync(tls.keyFile), allowHTTP1: true },
    }
    const starting = serve({ fetch: app.fetch, port, hostname: host, ...secure }, () => resolve(starting))
    starting.once('error', reject)
  })
  const lines = new Set<Socket>()
  server.on('connection', (line: Socket) => {
    lines.add(line)
    line.once('close', () => lines.delete(line))
  })
  const taken = (server.address() as AddressInfo).port
  return {
    address: `${tls ? 'https' : 'http'}://${host.includes(':') ? `[${host}]` : host}:${taken}`,
    port: taken,
    hangUp: () => hangUp(server, lines),
  }
}

async function hangUp(server: ServerType, lines: ReadonlySet<Socket>): Promise<void> {
  const closed = new Promise((resolve) => server.close(resolve))
  if ('closeIdleConnections' in server) server.closeIdleConnections()
  const patience = setTimeout(() => lines.forEach((line) => line.destroy()), 500)
  await closed
  clearTimeout(patience)
}
