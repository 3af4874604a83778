import { openTestDay } from '@musterbook/testday/testday'
import { serveTestDay } from '@musterbook/testday/over-nats'
import { weatherOverNats } from '@musterbook/weather/over-nats'
import type { HouseClock } from '../clock.ts'
import { natsConnection, natsLedger, type NatsSettings } from './nats-settings.ts'
import { opening, type Running } from './role.ts'

/** Commands in, entries out. As many as there are may run: whoever loses a race reads on and decides again. */
export const testDayProcess = (settings: NatsSettings, clock: HouseClock, trouble: (says: string) => void): Promise<Running> =>
  opening(async (opened) => {
    const ledger = await natsLedger(settings, 'testday')
    opened(() => ledger.close())
    const connection = await natsConnection(settings, 'testday')
    opened(() => connection.close())
    const weather = weatherOverNats(connection)
    const testDay = openTestDay({ ledger, clock, rehearsalOnly: clock.rehearsalOnly, siteHead: (siteId) => weather.headOf(siteId) })
    opened(() => testDay.close())
    const said = new Set<string>()
    const looking = setInterval(() => {
      for (const each of testDay.troubles()) if (!said.has(each)) trouble(each)
      said.clear()
      for (const each of testDay.troubles()) said.add(each)
    }, 5_000)
    opened(() => clearInterval(looking))
    const served = serveTestDay(connection, testDay)
    opened(() => served.close())
    await connection.flush()
    return ['testday takes commands']
  })
