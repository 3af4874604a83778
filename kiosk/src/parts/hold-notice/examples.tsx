import { HoldNotice } from './hold-notice.tsx'
import type { Examples } from '../examples.ts'

/** It fills the screen. */
export const whole = true

const now = Date.UTC(2026, 4, 11, 8, 52)

export const examples: Examples = {
  'twelve on the track': () => (
    <HoldNotice
      hold={{
        holdId: 'h-1',
        kind: 'heat',
        zone: 'Track',
        since: now - 9_000,
        by: 'the heat policy',
        because: 'WBGT 31.2 °C, Track, read 20 s ago, M-2',
      }}
      now={now}
      zone="Europe/Oslo"
      underWay={Array.from({ length: 12 }, (_, i) => String(104 + i))}
      orderUnknown
      onAcknowledge={() => undefined}
    />
  ),
}
