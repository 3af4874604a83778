import type { LedgerReader } from '@musterbook/ledger/ledger'
import type { TestDay } from '@musterbook/vocabulary/command'
import type { Office } from '@musterbook/vocabulary/office'
import type { Views, Weather } from '@musterbook/vocabulary/ports'
import type { AccessRecord } from './access-record.ts'
import type { StaticFiles } from './pages.ts'
import type { Sessions } from './sessions.ts'
import type { StepBack } from './step-back.ts'

/** Everything that the gateway needs; `ops` puts it together. */
export interface GatewayParts {
  testDay: TestDay
  weather: Weather
  views: Views
  office: Office
  ledger: LedgerReader
  access: AccessRecord
  stepBack: StepBack
  sessions: Sessions
  lockAfterMs: number
  /** The ledger's clock, epoch ms. */
  clock: () => number
  /** 1, unless a rehearsal runs faster. */
  speed: number
  newId: () => string
  /** Did the last write reach the disk? */
  disk: () => { ok: boolean; says: string | null }
  /** The screens as they were built. */
  files: StaticFiles
  /** Cookies travel over https only. */
  secure: boolean
  /** Tells of what broke, to whoever runs the server. Never a body: it may hold names. */
  onBroken: (error: unknown, asked: string) => void
}
