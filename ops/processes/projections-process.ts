import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { dayViews } from '@musterbook/day/views'
import { serveProjections } from '@musterbook/projections/over-nats'
import { openProjections, type Progress } from '@musterbook/projections/projections'
import { natsConnection, natsLedger, type NatsSettings } from './nats-settings.ts'
import { opening, type Running } from './role.ts'

/** The read models in a file of this process's own; another process has another. The file may be thrown away. */
export const projectionsProcess = (settings: NatsSettings, data: string, onProgress: (progress: Progress) => void): Promise<Running> =>
  opening(async (opened) => {
    mkdirSync(data, { recursive: true, mode: 0o700 })
    const ledger = await natsLedger(settings, 'projections')
    opened(() => ledger.close())
    const connection = await natsConnection(settings, 'projections')
    opened(() => connection.close())
    const projections = openProjections({ ledger, file: join(data, 'views.sqlite'), views: dayViews, onProgress })
    opened(() => projections.close())
    await projections.ready
    const served = serveProjections(connection, projections)
    opened(() => served.close())
    await connection.flush()
    return ['projections answers screens']
  })
