import { placeAfter } from '@musterbook/ledger/entry-text'
import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import { jetstream, jetstreamManager } from '@nats-io/jetstream'
import { connect } from '@nats-io/transport-node'
import { startNats } from '../faults/nats-cluster.ts'
import { kilobyte } from './drafts.ts'
import type { Contest } from './measure.ts'

export const appendNats: Contest = {
  name: 'appendNats',
  what: 'append to the JetStream ledger on one server, one at a time',
  against: 'raw publish with the expected last sequence, same server, same stream settings',
  aim: 0.8,
  better: 'higher',
  unit: 'entries/s',
  turns: 20,
  open: () => contest(1, 25),
}

export const appendNatsOnThree: Contest = {
  ...appendNats,
  name: 'appendNats3',
  what: 'append to the JetStream ledger on three servers, one at a time',
  open: () => contest(3, 15),
}

async function contest(servers: 1 | 3, pieces: number) {
  const cluster = await startNats(servers)
  const ledger = await jetstreamLedger({ connection: cluster.connection, monitors: cluster.monitors, replicas: servers, space: 'bench' })
  const raw = await rawStream(cluster.connection, servers)
  let version = 0
  return {
    ours: async () => {
      for (const end = version + pieces; version < end; version++) await ledger.append('day/1', version, kilobyte(`c${version}`))
      return pieces
    },
    raw: async () => {
      for (let count = 0; count < pieces; count++) await raw.publish()
      return pieces
    },
    close: async () => {
      await ledger.close()
      await raw.close()
      await cluster.stop()
    },
  }
}

async function rawStream(connection: { servers: string[] }, replicas: number) {
  const raw = await connect(connection)
  const manager = await jetstreamManager(raw)
  await manager.streams.add({
    name: 'raw',
    subjects: ['raw'],
    num_replicas: replicas,
    allow_direct: true,
    republish: { src: 'raw', dest: 'raw-live' },
  })
  const client = jetstream(raw)
  const { text } = placeAfter({ stream: 'day/1', version: 0, hash: '0'.repeat(64), sealed: false }, kilobyte('c1'))
  let lastSequence = 0
  return {
    publish: async () => {
      lastSequence = (await client.publish('raw', text, { expect: { streamName: 'raw', lastSequence } })).seq
    },
    close: () => raw.close(),
  }
}
