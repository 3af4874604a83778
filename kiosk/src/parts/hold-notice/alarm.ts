import { signal } from '@preact/signals'

/**
 * May this tablet sound? A browser keeps a page silent until somebody has touched it. `none`: it has no sound at all; undefined: not known yet.
 * How loud the tablet itself is set nobody can know but by hearing it.
 */
export const sound = signal<'on' | 'off' | 'none' | undefined>(undefined)

let audio: AudioContext | undefined
/** Alarms that go on now. With none the loudspeaker rests: an open line to it costs battery. */
let sounding = 0
/** A browser that may not sound never answers: so long is waited. */
const answerMs = 1_000

/** Finds out as the screen comes up, so that a silent tablet is known of before it matters. */
export function openSound(): void {
  if (sound.peek() !== undefined || audio) return
  if (!('AudioContext' in globalThis)) return void (sound.value = 'none')
  audio = new AudioContext()
  audio.addEventListener('statechange', () => {
    if (audio?.state === 'running') sound.value = 'on'
    rest()
  })
  void wake()
  for (const sign of ['pointerup', 'keydown'] as const)
    document.addEventListener(sign, () => void (sound.peek() === 'on' || wake()), { capture: true })
}

/** Once, to be heard: whoever touched it knows then. */
export async function testSound(): Promise<void> {
  if (await wake()) tone()
}

/** Two tones, falling, and a buzz, every two seconds, until hushed. */
export function soundAlarm(): () => void {
  openSound()
  sounding++
  const once = async () => {
    buzz()
    if ((await wake()) && sounding > 0) tone()
  }
  void once()
  const timer = setInterval(() => void once(), 2_000)
  return () => {
    clearInterval(timer)
    sounding--
    rest()
    if ('vibrate' in navigator) navigator.vibrate(0)
  }
}

/** Is the loudspeaker open now? */
async function wake(): Promise<boolean> {
  if (!audio) return false
  const silent = new Promise((resolve) => setTimeout(resolve, answerMs))
  await Promise.race([audio.resume().catch(() => undefined), silent])
  const isOpen = audio.state === 'running'
  sound.value = isOpen ? 'on' : 'off'
  return isOpen
}

let resting: ReturnType<typeof setTimeout> | undefined
function rest(): void {
  clearTimeout(resting)
  resting = setTimeout(() => {
    if (sounding === 0 && audio?.state === 'running') void audio.suspend()
  }, answerMs)
}

function tone(): void {
  if (!audio) return
  for (const [i, hertz] of [880, 587].entries()) {
    const oscillator = audio.createOscillator()
    const gain = audio.createGain()
    const at = audio.currentTime + i * 0.35
    oscillator.type = 'square'
    oscillator.frequency.value = hertz
    gain.gain.setValueAtTime(0.35, at)
    gain.gain.setTargetAtTime(0, at + 0.28, 0.03)
    oscillator.connect(gain).connect(audio.destination)
    oscillator.start(at)
    oscillator.stop(at + 0.34)
  }
  rest()
}

// Chromium complains aloud when a page buzzes before it was ever touched.
function buzz(): void {
  if ('vibrate' in navigator && navigator.userActivation?.hasBeenActive) navigator.vibrate([400, 150, 400])
}
