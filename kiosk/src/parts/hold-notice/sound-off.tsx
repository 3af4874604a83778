import { Button } from '../button/button.tsx'
import { words } from '../../words/words.ts'
import { sound, testSound } from './alarm.ts'

/** A tablet that would stop nobody by ear says so before it matters; one touch sounds it. It lies over the screen's name, so that no key moves when it comes or goes. */
export function SoundOff() {
  if (sound.value !== 'off') return null
  return (
    <p class="sound-off">
      <Button size="small" onPress={() => void testSound()}>
        {words.sound.off}
      </Button>
    </p>
  )
}

/** Where no touch would change it. */
export function NoSound() {
  return sound.value === 'none' ? <p class="trouble">{words.sound.none}</p> : null
}

/** Under a stop that fills the screen: what is seen here is not heard. */
export function Silent() {
  return sound.value === 'off' || sound.value === 'none' ? <p role="status">{words.sound.silent}</p> : null
}
