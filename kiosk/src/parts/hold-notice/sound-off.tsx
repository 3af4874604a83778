import { useEffect, useState } from 'preact/hooks'
import { Button } from '../button/button.tsx'
import { words } from '../../words/words.ts'
import { sound, testSound } from './alarm.ts'

/** The touch that turns it on may be meant for a key below: nothing moves under that hand, nor under the next. */
const goesMs = 4_000

/** A tablet that would stop nobody by ear says so before it matters; one touch sounds it. */
export function SoundOff() {
  const [stays, stay] = useState(false)
  const isOff = sound.value === 'off'
  useEffect(() => {
    if (isOff) stay(true)
    if (isOff || !stays) return
    const timer = setTimeout(() => stay(false), goesMs)
    return () => clearTimeout(timer)
  }, [isOff, stays])
  if (sound.value === 'none') return <p class="trouble">{words.sound.none}</p>
  if (!isOff && !stays) return null
  return (
    <p class="sound-off">
      <Button size="small" onPress={() => void testSound()}>
        {isOff ? words.sound.off : words.sound.on}
      </Button>
    </p>
  )
}

/** Under a stop that fills the screen: what is seen here is not heard. */
export function Silent() {
  return sound.value === 'off' || sound.value === 'none' ? <p role="status">{words.sound.silent}</p> : null
}
