import { randomBytes } from 'node:crypto'
import { accessRecord } from '@musterbook/gateway/access-record'
import { gateway } from '@musterbook/gateway/gateway'
import { type Listening, listen, type Tls } from '@musterbook/gateway/listen'
import { filesIn } from '@musterbook/gateway/pages'
import type { GatewayParts } from '@musterbook/gateway/parts'
import { sessions as openSessions } from '@musterbook/gateway/sessions'
import type { Ledger } from '@musterbook/ledger/ledger'
import type { HouseClock } from './clock.ts'

/** How the house is reached. */
export interface FrontOptions {
  /** 0: any free one. */
  port: number
  host: string
  /** The folder with the built screens; undefined: none are served. */
  screens?: string | undefined
  tls?: Tls | undefined
  /** After this much real time without hands on it a screen locks. */
  lockAfterMs?: number
  /** What that is counted by, in milliseconds; absent: this machine's steady clock. */
  handsClock?: () => number
  /** What broke, for whoever runs the server. */
  onBroken?: (error: unknown, where: string) => void
}

/** What the gateway asks, in this process or in others. */
interface Behind extends Pick<GatewayParts, 'office' | 'testDay' | 'weather' | 'views' | 'replay' | 'contacts' | 'disk' | 'seals'> {
  /** Read whole; written to in `access/` alone. */
  ledger: Ledger
  clock: HouseClock
}

const usualLockAfterMs = 5 * 60_000

/** Sign-in, the API and the screens, over whatever stands behind them. */
export function openFront(behind: Behind, options: FrontOptions): Promise<Listening> {
  const { onBroken = () => {}, lockAfterMs = usualLockAfterMs, handsClock = () => performance.now() } = options
  const { ledger, office, clock } = behind
  const newId = () => randomBytes(12).toString('hex')
  const access = accessRecord(ledger, { siteId: async () => (await office.site())?.siteId ?? null, clock: clock.now, newId })
  const sessions = openSessions({
    steady: handsClock,
    lockAfterMs,
    onEnd: (who, because) => void access.tell({ type: 'signedOff', ...who, because }).catch((error) => onBroken(error, 'access')),
  })
  const app = gateway({
    ...behind,
    access,
    sessions,
    lockAfterMs,
    clock: clock.now,
    speed: clock.speed,
    rehearsalOnly: clock.rehearsalOnly,
    newId,
    files: options.screens === undefined ? async () => undefined : filesIn(options.screens),
    secure: options.tls !== undefined,
    onBroken,
  })
  return listen(app, options)
}
