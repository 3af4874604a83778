import type { By, Envelope } from './envelope.ts'
import type { SiteId } from './ids.ts'
import type { TakeReading } from './site.ts'

/** Where readings go in. Never refused: what is odd about one is asked and kept. */
export interface Weather {
  take(reading: TakeReading, by: By, envelope: Envelope): Promise<ReadingReceipt>
  /** The site's stream as far as it is written: what a day must have read before it grants an outdoor start. */
  headOf(siteId: SiteId): Promise<number>
}

/** "Received" by the site; "in force" is said only by a day. */
export interface ReadingReceipt {
  siteVersion: number
  wbgtTenths: number | null
  unit: 'degC' | 'degF'
  band: string
  usable: boolean
  questions: string[]
  calledHold: boolean
}

/** One row of a read model. `version`: of the day entry it includes. */
export interface View<Body = unknown> {
  version: number
  body: Body
}

/** The read models, as the gateway asks for them. */
export interface Views {
  /** undefined: no such row (yet). `atLeast`: waits until the projection has read that version of the day. */
  get(dayId: string, view: string, key: string, atLeast?: number): Promise<View | undefined>
  /** Calls back with the newest row at once and after each change, until `signal` aborts. A slow reader skips rows, never slows others. */
  watch(dayId: string, view: string, key: string, signal: AbortSignal): AsyncIterable<View>
  days(): Promise<View[]>
  /** Entries each projection is behind the ledger's head, and how long it has been so. */
  lags(): { name: string; dayId: string; behind: number; forMs: number; stopped: string | null }[]
}
