import type { Views } from '@musterbook/vocabulary/ports'
import type { Served } from '@musterbook/wire/serve'
import type { NatsConnection } from '@nats-io/transport-node'
import { z } from 'zod'

type Lag = ReturnType<Views['lags']>[number]

const subject = 'musterbook.lags'
const everyMs = 1_000
/** A process that was not heard for so long has ended. */
const goneAfterMs = 5_000
/** Far more than a house has; those furthest behind come first. */
const mostRows = 2_000

const Told = z.strictObject({
  process: z.string().max(100),
  lags: z
    .array(
      z.strictObject({
        name: z.string(),
        dayId: z.string(),
        behind: z.int().nonnegative(),
        forMs: z.number(),
        stopped: z.string().nullable(),
      }),
    )
    .max(mostRows),
})

/** Tells everyone, once a second, how far this process is behind. */
export function tellLags(connection: NatsConnection, lags: () => readonly Lag[]): Served {
  const process = `${connection.info?.client_id ?? 0}-${performance.timeOrigin}`
  const telling = setInterval(() => {
    if (connection.isClosed()) return
    const worstFirst = [...lags()].sort((one, other) => other.behind - one.behind).slice(0, mostRows)
    connection.publish(subject, JSON.stringify({ process, lags: worstFirst } satisfies z.infer<typeof Told>))
  }, everyMs)
  return {
    async close() {
      clearInterval(telling)
    },
  }
}

/** What the processes told of late. Any of them may answer a screen, so the one furthest behind counts; where none is heard, that is said. */
export function lagsFrom(connection: NatsConnection): { worst(): Lag[]; close(): void } {
  const told = new Map<string, { at: number; lags: readonly Lag[] }>()
  let lastHeard = performance.now()
  const subscription = connection.subscribe(subject, {
    callback: (error, message) => {
      const parsed = error ? undefined : Told.safeParse(jsonOf(message))
      if (!parsed?.success) return
      lastHeard = performance.now()
      told.set(parsed.data.process, { at: lastHeard, lags: parsed.data.lags })
    },
  })
  return {
    worst() {
      const now = performance.now()
      for (const [process, { at }] of told) if (now - at > goneAfterMs) told.delete(process)
      return told.size > 0 ? furthestBehind([...told.values()].flatMap(({ lags }) => lags)) : [nobody(now - lastHeard)]
    },
    close: () => subscription.unsubscribe(),
  }
}

function furthestBehind(all: readonly Lag[]): Lag[] {
  const worst = new Map<string, Lag>()
  for (const lag of all) {
    const name = `${lag.name} ${lag.dayId}`
    const known = worst.get(name)
    if (!known || lag.behind > known.behind || (lag.stopped !== null && known.stopped === null)) worst.set(name, lag)
  }
  return [...worst.values()]
}

/** How far behind nobody is cannot be known: it counts as without end, once it has lasted. */
const nobody = (forMs: number): Lag => ({
  name: 'projections',
  dayId: '',
  behind: Number.MAX_SAFE_INTEGER,
  forMs: Math.round(forMs),
  stopped: 'No projections process is heard: start one.',
})

function jsonOf(message: { json(): unknown }): unknown {
  try {
    return message.json()
  } catch {
    return undefined
  }
}
