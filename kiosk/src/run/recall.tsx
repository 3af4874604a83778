import { useEffect, useState } from 'preact/hooks'
import type { WaveView } from '@musterbook/day/views/station'
import undoIcon from 'lucide-static/icons/undo-2.svg?raw'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'
import type { RunActs } from './acts.ts'

/** So long one touch calls a false start back. */
const undoMs = 10_000

/** The gun taken back, while nobody can have come round: the runners walk back to the line. */
export function Recall({ house, wave, acts }: { house: House; wave: WaveView; acts: RunActs }) {
  const [now, tick] = useState(() => house.clock.siteNow())
  const left = wave.gunAt + undoMs - now
  const isOver = left <= 0
  useEffect(() => {
    if (isOver) return
    const timer = setInterval(() => tick(house.clock.siteNow()), 500)
    return () => clearInterval(timer)
  }, [isOver])
  const out = wave.runners.filter(({ status }) => status === 'running')
  if (isOver || out.length === 0 || wave.runners.some(({ crossings }) => crossings.length > 0)) return null
  return (
    <Button icon={undoIcon} wide onPress={() => void acts.recall(out)}>
      {words.run.recall(Math.ceil(left / 1000))}
    </Button>
  )
}
