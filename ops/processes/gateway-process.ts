import { existsSync, mkdirSync } from 'node:fs'
import { dirname } from 'node:path'
import { openOffice } from '@musterbook/office/office'
import { viewsOverNats } from '@musterbook/projections/over-nats'
import { entriesOf, NewestDays } from '@musterbook/projections/newest-days'
import { testDayOverNats } from '@musterbook/testday/over-nats'
import type { DeviceId } from '@musterbook/vocabulary/ids'
import { weatherOverNats } from '@musterbook/weather/over-nats'
import type { NatsConnection } from '@nats-io/transport-node'
import type { HouseClock } from '../clock.ts'
import { type FrontOptions, openFront } from '../front.ts'
import { openSeals } from '../seals.ts'
import { natsConnection, natsLedger, type NatsSettings } from './nats-settings.ts'
import { opening, type Running } from './role.ts'

interface Options extends FrontOptions {
  /** Holds the names and the medical compartment; they lie in no other place. */
  data: string
  /** Opens what is sealed: outside the data folder and its backups. */
  keyFile: string
}

/**
 * Screens, sign-in and the office, whose stores lie in files of this machine: so a site has one of these, and another machine takes over with
 * its data folder. The two write to NATS under names of their own.
 */
export const gatewayProcess = (settings: NatsSettings, clock: HouseClock, options: Options): Promise<Running> =>
  opening(async (opened) => {
    mkdirSync(options.data, { recursive: true, mode: 0o700 })
    if (!existsSync(options.keyFile)) mkdirSync(dirname(options.keyFile), { recursive: true, mode: 0o700 })
    const officeLedger = await natsLedger(settings, 'office')
    opened(() => officeLedger.close())
    const office = await openOffice({ ledger: officeLedger, dataFolder: options.data, keyFile: options.keyFile, now: clock.now })
    opened(() => office.close())

    const ledger = await natsLedger(settings, 'gateway')
    opened(() => ledger.close())
    const connection = await natsConnection(settings, 'gateway')
    opened(() => connection.close())
    const views = viewsOverNats(connection)
    opened(() => views.close())
    const days = new NewestDays(ledger)
    const heard = new Map<DeviceId, number>()
    const { address, hangUp } = await openFront(
      {
        testDay: testDayOverNats(connection),
        weather: weatherOverNats(connection),
        views,
        // Entries are read where they stand: a page of them may be longer than an answer over NATS.
        replay: {
          entriesOf: (dayId, after, atMost) => entriesOf(ledger, dayId, after, atMost),
          newest: (dayId) => days.newest(dayId),
        },
        seals: openSeals({ ledger, keyFile: options.keyFile, data: options.data }),
        contacts: { ages: () => heard, heard: (deviceId) => void heard.set(deviceId, clock.now()) },
        office,
        ledger,
        clock,
        disk: contactOf(connection),
      },
      options,
    )
    opened(hangUp)
    const code = await office.newSetUpCode()
    return [
      `Musterbook stands at ${address}`,
      ...(code ? [`Not set up yet. Open ${address}/set-up and give this one-time code: ${code}`] : []),
    ]
  })

/** Nothing is recorded while no server is reached; /health says so. */
function contactOf(connection: NatsConnection): () => { ok: boolean; says: string | null } {
  let inContact = true
  void (async () => {
    for await (const { type } of connection.status()) {
      if (type === 'disconnect') inContact = false
      if (type === 'reconnect') inContact = true
    }
  })()
  return () => (inContact ? { ok: true, says: null } : { ok: false, says: 'None of the NATS servers is reached.' })
}
