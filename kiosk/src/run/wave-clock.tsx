import { useEffect, useState } from 'preact/hooks'
import type { WaveView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { raceTime, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** Time since the gun, large, by the site's clock as this tablet's steady clock carries it on. Stands still when nobody is out. */
export function WaveClock({ house, wave }: { house: House; wave: WaveView }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const [elapsed, tick] = useState(() => house.clock.siteNow() - wave.gunAt)
  useEffect(() => {
    if (!wave.open) return
    const timer = setInterval(() => tick(house.clock.siteNow() - wave.gunAt), 100)
    return () => clearInterval(timer)
  }, [wave.open, wave.gunAt])
  return (
    <div class="wave-clock">
      {wave.open && (
        <output class="wave-elapsed figures" aria-label={words.run.elapsed} aria-live="off">
          {raceTime(Math.max(0, Math.floor(elapsed / 100)) * 10, 1)}
        </output>
      )}
      <p class="wave-gun figures">
        {words.run.gunAt(wallClock(wave.gunAt, zone, true))}
        <strong>{wave.official ? words.run.waveOfficial : words.run.wavePractice}</strong>
      </p>
    </div>
  )
}
