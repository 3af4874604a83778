import { ledgerContract } from '@musterbook/ledger/contract'
import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import { type NatsCluster, startNats } from './nats-cluster.ts'

let spaces = 0

for (const servers of [1, 3] as const) {
  ledgerContract(`JetStream on ${servers} server${servers > 1 ? 's' : ''}`, async () => {
    const cluster: NatsCluster = await startNats(servers)
    const options = { connection: cluster.connection, monitors: cluster.monitors, replicas: servers, space: `contract-${++spaces}` }
    const ledger = await jetstreamLedger(options)
    const second = await jetstreamLedger(options)
    return {
      ledger,
      second,
      close: async () => {
        await ledger.close()
        await second.close()
        await cluster.stop()
      },
    }
  })
}
