import { HoldStrip } from './hold-strip.tsx'
import type { Examples } from '../examples.ts'

const now = Date.UTC(2026, 4, 11, 8, 52)

export const examples: Examples = {
  'over one zone': () => (
    <HoldStrip
      hold={{
        holdId: 'h-1',
        kind: 'heat',
        zone: 'Track',
        since: now - 17 * 60_000,
        by: 'the heat policy',
        because: 'WBGT 31.2 °C, Track, M-2',
      }}
      now={now}
      zone="Europe/Oslo"
    />
  ),
  'everywhere outdoors': () => (
    <HoldStrip
      hold={{ holdId: 'h-2', kind: 'lightning', zone: null, since: now - 40_000, by: 'R. Benning' }}
      now={now}
      zone="Europe/Oslo"
    />
  ),
}
