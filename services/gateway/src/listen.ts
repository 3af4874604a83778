import { readFileSync } from 'node:fs'
import { createServer as createSecureServer } from 'node:https'
import type { AddressInfo } from 'node:net'
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

/** Rejects when the port is taken or the certificate cannot be read. Port 0: any free one. */
export async function listen(
  app: Hono<HouseEnv>,
  { port, host, tls }: { port: number; host: string; tls?: Tls | undefined },
): Promise<Listening> {
  const server = await new Promise<ServerType>((resolve, reject) => {
    const secure = tls && {
      createServer: createSecureServer,
      serverOptions: { cert: readFileSync(tls.certificateFile), key: readFileSync(tls.keyFile) },
    }
    const starting = serve({ fetch: app.fetch, port, hostname: host, ...secure }, () => resolve(starting))
    starting.once('error', reject)
  })
  const taken = (server.address() as AddressInfo).port
  return {
    address: `${tls ? 'https' : 'http'}://${host.includes(':') ? `[${host}]` : host}:${taken}`,
    port: taken,
    hangUp: () => hangUp(server),
  }
}

async function hangUp(server: ServerType): Promise<void> {
  const closed = new Promise((resolve) => server.close(resolve))
  if ('closeIdleConnections' in server) server.closeIdleConnections()
  const patience = setTimeout(() => 'closeAllConnections' in server && server.closeAllConnections(), 500)
  await closed
  clearTimeout(patience)
}
