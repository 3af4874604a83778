import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { draft } from '@musterbook/ledger/controls'
import { jetstreamLedger, type JetStreamOptions } from '@musterbook/ledger/jetstream'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type NatsCluster, startNats } from './nats-cluster.ts'

describe('a cluster that cannot keep the ledger is refused with a sentence', () => {
  let cluster: NatsCluster
  let options: JetStreamOptions
  beforeAll(async () => {
    cluster = await startNats(1)
    options = { connection: cluster.connection, monitors: cluster.monitors, replicas: 1, space: 'probe', patienceMs: 1_000 }
  })
  afterAll(() => cluster.stop())

  const refusal = async (changes: Partial<JetStreamOptions>) => {
    try {
      await (await jetstreamLedger({ ...options, ...changes })).close()
      return 'not refused'
    } catch (error) {
      return (error as Error).message
    }
  }

  test('but one that can is not', async () => {
    expect(await refusal({})).toBe('not refused')
  })

  test('when it acknowledges before it has synced', async () => {
    const lazy = await startNats(1, 'jetstream { sync_interval: "2m" }')
    expect(await refusal({ connection: lazy.connection, monitors: lazy.monitors })).toContain(
      'set sync_interval: always in its jetstream block',
    )
    await lazy.stop()
  })

  test.each([
    [{ version: '2.10.27', jetstream: { config: { sync_always: true } } }, 'is version 2.10.27; 2.12.3 is the oldest'],
    [{ jetstream: { config: { sync_always: true } } }, 'is version unknown; 2.12.3 is the oldest'],
    [{ version: '2.15.1', jetstream: {} }, 'has no JetStream'],
    [{ version: '2.15.1', jetstream: { config: {} } }, 'acknowledges before it has synced'],
  ])('when a server says %j', async (varz, sentence) => {
    const monitor = await answering(varz)
    expect(await refusal({ monitors: [`http://127.0.0.1:${(monitor.address() as AddressInfo).port}`] })).toContain(sentence)
    monitor.close()
  })

  test('when nobody answers on the monitoring address, or none is named', async () => {
    expect(await refusal({ monitors: ['http://127.0.0.1:1'] })).toContain('does not answer')
    expect(await refusal({ monitors: [] })).toContain('name the monitoring address of every NATS server')
  })

  test('when it has fewer servers than replicas are asked for', async () => {
    expect(await refusal({ replicas: 3 })).toContain('is to have 3 replicas, and the NATS cluster has 1 servers')
  })

  test('when a stream is not kept as the ledger asks', async () => {
    const ledger = await jetstreamLedger({ ...options, space: 'loose' })
    await ledger.append('day/1', 0, draft('c1'))
    await ledger.close()
    await changeByHand(cluster, 'loose_day_2f1', { max_msgs: 5_000 })
    const again = await jetstreamLedger({ ...options, space: 'loose' })
    await expect(again.append('day/1', 1, draft('c2'))).rejects.toThrow('has max_msgs 5000 where the ledger needs -1')
    await again.close()
  })

  test('when not all servers of a cluster are named', async () => {
    const three = await startNats(3)
    const asked = { connection: three.connection, replicas: 3 as const }
    expect(await refusal({ ...asked, monitors: three.monitors.slice(0, 2) })).toContain(
      'has 3 servers and the settings name the monitoring addresses of 2',
    )
    expect(await refusal({ ...asked, monitors: three.monitors })).toBe('not refused')
    await three.stop()
  })
})

async function changeByHand(cluster: NatsCluster, stream: string, changes: object): Promise<void> {
  const { jetstreamManager } = await import('@nats-io/jetstream')
  const { connect } = await import('@nats-io/transport-node')
  const connection = await connect(cluster.connection)
  await (await jetstreamManager(connection)).streams.update(stream, changes)
  await connection.close()
}

/** Stands in for the monitoring port of a server that we do not want to install. */
function answering(varz: object): Promise<Server> {
  return new Promise((resolve) => {
    const server = createServer((request, response) => response.end(JSON.stringify(request.url === '/varz' ? varz : {})))
    server.listen(0, '127.0.0.1', () => resolve(server))
  })
}
