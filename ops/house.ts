import { existsSync, mkdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { dayViews } from '@musterbook/day/views'
import type { HeatPolicy } from '@musterbook/heat/policies'
import type { Ledger } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { openOffice } from '@musterbook/office/office'
import { openProjections, type Progress } from '@musterbook/projections/projections'
import { openTestDay } from '@musterbook/testday/testday'
import { openWeather } from '@musterbook/weather/weather'
import type { Office } from '@musterbook/vocabulary/office'
import { houseClock, newestRecordedAt, type HouseClock } from './clock.ts'
import { type FrontOptions, openFront } from './front.ts'
import { ledgerFile } from './paths.ts'
import { openSeals } from './seals.ts'
import { strictest } from './strictest-policy.ts'

export interface HouseOptions extends FrontOptions {
  /** Holds the ledger, the names and the read models; made if it is not there. */
  data: string
  /** Opens what is sealed: outside the data folder and its backups; made if it is not there. */
  keyFile: string
  /** 1, unless this is a rehearsal. */
  speed: number
  /** Where a rehearsal's clock starts, epoch ms. */
  startsAt?: number | undefined
  /** A clock of the caller's own, for tests that need to say when something happens. */
  clock?: HouseClock
  /** scrypt's N for PINs; tests take a small one. */
  pinCost?: number
  onProgress?: (progress: Progress) => void
  /** The disk failed under the ledger: nothing more is recorded until the process starts anew. */
  onDiskFailed?: (reason: Error) => void
}

export interface House {
  /** Where it is reached. */
  address: string
  port: number
  clock: HouseClock
  office: Office
  ledger: Ledger
  /** The one-time code with which a coordinator sets the site up; null once that is done. */
  setUpCode: string | null
  /** Answers what was asked, lets go of readers, then closes every file. */
  close(): Promise<void>
}

/** Every service in one process over one SQLite ledger, on one port. Throws with a sentence when it cannot stand. */
export async function composeHouse(options: HouseOptions): Promise<House> {
  mkdirSync(options.data, { recursive: true, mode: 0o700 })
  if (!existsSync(options.keyFile)) mkdirSync(dirname(options.keyFile), { recursive: true, mode: 0o700 })
  const disk: { ok: boolean; says: string | null } = { ok: true, says: null }
  const opened: (() => Promise<unknown>)[] = []
  const close = async () => {
    while (opened.length > 0) await opened.pop()!()
  }

  try {
    const ledger = sqliteLedger({
      file: ledgerFile(options.data),
      onStopped: (reason) => {
        Object.assign(disk, { ok: false, says: reason.message })
        options.onDiskFailed?.(reason)
      },
    })
    opened.push(() => ledger.close())
    const clock = options.clock ?? houseClock({ ...options, notBefore: await newestRecordedAt(ledger) })

    const office = await openOffice({
      ledger,
      dataFolder: options.data,
      keyFile: options.keyFile,
      now: clock.now,
      ...(options.pinCost !== undefined && { pinCost: options.pinCost }),
    })
    opened.push(() => office.close())

    const weather = openWeather({ ledger, clock, policyOf: async () => strictest(await heatPoliciesInForce(office)) })
    const testDay = openTestDay({ ledger, clock, rehearsalOnly: clock.rehearsalOnly, siteHead: (siteId) => weather.headOf(siteId) })
    opened.push(() => testDay.close())

    const projections = openProjections({
      ledger,
      file: join(options.data, 'views.sqlite'),
      views: dayViews,
      ...(options.onProgress && { onProgress: options.onProgress }),
    })
    opened.push(() => projections.close())
    await projections.ready

    const { address, port, hangUp } = await openFront(
      {
        testDay,
        weather,
        views: projections,
        office,
        ledger,
        replay: projections,
        seals: openSeals({ ledger, keyFile: options.keyFile, data: options.data }),
        contacts: { ages: () => testDay.contactAges(), heard: (deviceId) => testDay.heard(deviceId) },
        clock,
        disk: () => disk,
      },
      options,
    )
    opened.push(hangUp)
    return {
      address,
      port,
      clock,
      office,
      ledger,
      setUpCode: await office.newSetUpCode(),
      close,
    }
  } catch (error) {
    await close()
    throw error
  }
}

/** A site may have adopted several; what is in force for each day stands in the day. */
async function heatPoliciesInForce(office: Office): Promise<HeatPolicy[]> {
  const offers = await office.rules()
  return offers
    .filter(({ kind, state }) => kind === 'heatPolicy' && state === 'inForce')
    .map(({ content }) => content as unknown as HeatPolicy)
}
