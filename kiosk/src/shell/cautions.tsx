import { useEffect, useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { newVersionWaits } from '../house/versions.ts'
import { Mark } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import { cautionsOf, type Caution, type Told } from './device-cautions.ts'

/** Not every browser tells of its battery. */
type WithBattery = Navigator & { getBattery?: () => Promise<NonNullable<Told['battery']>> }

const everyMs = 20_000

/** Quiet lines about the tablet itself, each with what to do; nothing while there is nothing. */
export function Cautions({ house }: { house: House }) {
  const [cautions, tell] = useState<readonly Caution[]>([])
  useEffect(() => {
    const look = async () => {
      const battery = await (navigator as WithBattery).getBattery?.().catch(() => undefined)
      const estimate = await navigator.storage?.estimate?.().catch(() => undefined)
      const storage = estimate?.quota ? { usage: estimate.usage ?? 0, quota: estimate.quota } : undefined
      tell(cautionsOf({ battery, storage, clocksPartedMs: house.clock.disagreementMs() }))
    }
    void look()
    const timer = setInterval(() => void look(), everyMs)
    return () => clearInterval(timer)
  }, [])
  if (cautions.length === 0 && !newVersionWaits.value) return null
  return (
    <ul class="cautions" aria-label={words.cautions.title}>
      {cautions.map((caution) => (
        <li key={caution.kind}>
          <Mark state="review" says={saysOf(caution)} />
        </li>
      ))}
      {newVersionWaits.value && (
        <li>
          <Mark state="waiting" says={words.cautions.newVersion} />
        </li>
      )}
    </ul>
  )
}

function saysOf(caution: Caution): string {
  if (caution.kind === 'battery') return words.cautions.battery(caution.percent, caution.minutesLeft)
  return caution.kind === 'storage' ? words.cautions.storage : words.cautions.clocks(caution.seconds)
}
