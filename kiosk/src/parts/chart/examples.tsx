import { Chart } from './chart.tsx'
import type { Examples } from '../examples.ts'

const at = (hour: number, minute: number) => Date.UTC(2026, 4, 11, hour, minute)
const points = [24.6, 25.1, 26.4, 27.1, 28.9, 31.2, 30.1, 28.2, 27.0].map((value, i) => ({ at: at(6, 40) + i * 25 * 60_000, value }))

export const examples: Examples = {
  'readings over a morning, with a hold': () => (
    <Chart
      title="WBGT, Track, M-2"
      unit="°C"
      points={points}
      zone="Europe/Oslo"
      bands={[{ from: at(8, 45), to: at(9, 35), says: 'Hold' }]}
      limits={[{ value: 31, says: 'Hold value of HP-1' }]}
    />
  ),
}
