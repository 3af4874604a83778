import type { HeatPolicy } from '@musterbook/heat/policies'
import { rulesInForce } from '@musterbook/office/rules-in-force'
import { serveWeather } from '@musterbook/weather/over-nats'
import { openWeather } from '@musterbook/weather/weather'
import type { HouseClock } from '../clock.ts'
import { strictest } from '../strictest-policy.ts'
import { natsConnection, natsLedger, type NatsSettings } from './nats-settings.ts'
import { opening, type Running } from './role.ts'

/** Readings in, and the holds that they call for, by the policies that the site's own stream says are in force. */
export const weatherProcess = (settings: NatsSettings, clock: HouseClock): Promise<Running> =>
  opening(async (opened) => {
    const ledger = await natsLedger(settings, 'weather')
    opened(() => ledger.close())
    const connection = await natsConnection(settings, 'weather')
    opened(() => connection.close())
    const inForce = rulesInForce(ledger)
    const weather = openWeather({
      ledger,
      clock,
      policyOf: async (siteId) => strictest((await inForce(siteId, 'heatPolicy')) as HeatPolicy[]),
    })
    const served = serveWeather(connection, weather)
    opened(() => served.close())
    await connection.flush()
    return ['weather takes readings']
  })
