import { PercentileStrip } from './percentile-strip.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'with an earlier one': () => (
    <PercentileStrip
      percentile={70}
      group="M30–39"
      table="FX-1 (invented)"
      before={{ percentile: 60, says: 'Ring: 60 of 100 in May, same table' }}
    />
  ),
  'no percentile': () => <PercentileStrip percentile={undefined} group="F20–29" table="FX-1 (invented)" />,
}
