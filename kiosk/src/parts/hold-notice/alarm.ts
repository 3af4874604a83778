/** Two tones, falling, and a buzz, every two seconds, until hushed. A device that may not sound stays silent: the screen says it as well. */
export function soundAlarm(): () => void {
  const once = () => {
    buzz()
    try {
      tone()
    } catch {
      // No sound here, or not before the first touch of the day.
    }
  }
  once()
  const timer = setInterval(once, 2_000)
  return () => {
    clearInterval(timer)
    if ('vibrate' in navigator) navigator.vibrate(0)
  }
}

let audio: AudioContext | undefined

function tone(): void {
  if (!('AudioContext' in globalThis)) return
  audio ??= new AudioContext()
  if (audio.state === 'suspended') void audio.resume()
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
}

// Chromium complains aloud when a page buzzes before it was ever touched.
function buzz(): void {
  if ('vibrate' in navigator && navigator.userActivation?.hasBeenActive) navigator.vibrate([400, 150, 400])
}
