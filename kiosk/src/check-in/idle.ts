import { useEffect, useState } from 'preact/hooks'

/** Hands have been off for this long when the page warns, and when it clears itself. In real time: it is people who wait. */
const warnsAfterMs = 12_000
export const wipesAfterMs = 20_000

/** Whole seconds until the page clears itself, once it warns. `patience` makes both longer for whoever asked for more time. */
export function useIdle(patience: number, onIdle: () => void): number | undefined {
  const [left, setLeft] = useState<number | undefined>(undefined)
  useEffect(() => {
    let touched = performance.now()
    const touch = () => {
      touched = performance.now()
      setLeft(undefined)
    }
    const look = () => {
      const idle = performance.now() - touched
      if (idle >= wipesAfterMs * patience) onIdle()
      else setLeft(idle >= warnsAfterMs * patience ? Math.ceil((wipesAfterMs * patience - idle) / 1000) : undefined)
    }
    const signs = ['pointerdown', 'keydown', 'input'] as const
    for (const sign of signs) document.addEventListener(sign, touch)
    const timer = setInterval(look, 500)
    return () => {
      clearInterval(timer)
      for (const sign of signs) document.removeEventListener(sign, touch)
    }
  }, [patience, onIdle])
  return left
}
