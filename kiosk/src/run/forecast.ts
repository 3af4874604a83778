import type { WaveView } from '@musterbook/day/views/station'

/** How long a wave is reckoned to take before anybody of today has finished: an assumption of ours, said as one. */
const assumedLapMs = 150_000

/** When a wave started now would be over: by the slowest who has finished today, else by an assumed lap. */
export function waveEnd(
  now: number,
  waves: readonly WaveView[],
  laps: number,
): { at: number; lastsMs: number; from: 'slowest' | 'assumed' } {
  const finished = waves.flatMap((wave) =>
    wave.runners.flatMap(({ status, finishMs }) => (status === 'finished' && finishMs ? [finishMs] : [])),
  )
  const lastsMs = finished.length > 0 ? Math.max(...finished) : laps * assumedLapMs
  return { at: now + lastsMs, lastsMs, from: finished.length > 0 ? 'slowest' : 'assumed' }
}
