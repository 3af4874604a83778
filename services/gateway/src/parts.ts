import type { Day } from '@musterbook/day/day'
import type { Seal } from '@musterbook/evidence/seal'
import type { Entry, Ledger, LedgerReader } from '@musterbook/ledger/ledger'
import type { BundleEvidence } from '@musterbook/replay/bundle'
import type { StudentProof } from '@musterbook/replay/leaves'
import type { TestDay } from '@musterbook/vocabulary/command'
import type { DeviceId } from '@musterbook/vocabulary/ids'
import type { Office } from '@musterbook/vocabulary/office'
import type { Views, Weather } from '@musterbook/vocabulary/ports'
import type { AccessRecord } from './access-record.ts'
import type { StaticFiles } from './pages.ts'
import type { Sessions } from './sessions.ts'

/** Everything that the gateway needs; `ops` puts it together. */
export interface GatewayParts {
  testDay: TestDay
  weather: Weather
  views: Views
  office: Office
  ledger: LedgerReader & Pick<Ledger, 'follow'>
  access: AccessRecord
  replay: Replay
  seals: Seals
  /** When each device was last heard, by the ledger's clock; and that one is heard now. */
  contacts: { ages(): ReadonlyMap<DeviceId, number>; heard(deviceId: DeviceId): void }
  sessions: Sessions
  lockAfterMs: number
  /** The ledger's clock, epoch ms. */
  clock: () => number
  /** 1, unless a rehearsal runs faster. */
  speed: number
  /** The clock does not tell the real time: no real day is opened under it. */
  rehearsalOnly: boolean
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

/** Signed with the site's key, which the gateway never sees. */
export interface Seals {
  /** SHA-256 of the site's public key, as it stands on the printed day sheet. */
  fingerprint: string
  sealOf(dayId: string): Promise<Seal | undefined>
  proofOf(dayId: string, studentId: string): Promise<StudentProof | undefined>
  /** The same with what came after the seal, under the name of the student, signed. */
  bundleOf(dayId: string, studentId: string, name: string): Promise<BundleEvidence | undefined>
  /** A page with a last line that says so of all its bytes above. */
  signedFile(page: string): string
}

/** A day as it was told. Versions count on over its seal. */
export interface Replay {
  entriesOf(dayId: string, afterVersion: number, atMost: number): Promise<Entry[]>
  /** The whole day as far as it is read: for sheets that compare days. */
  newest(dayId: string): Promise<Day | undefined>
}
