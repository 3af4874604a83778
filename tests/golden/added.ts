import { at, bo, crosses, drive, expected, gun, opened, rashid, reads, ready, tells } from '@musterbook/day/controls'
import type { DayEntry } from '@musterbook/day/evolve'

/** What was added to the released rules since: a wave that a second tablet takes over. */
export function takenOverDay(): readonly DayEntry[] {
  const driven = drive()
  const laps = ['4:00.0', '6:00.0', '8:00.0', '10:00.0']
  const steps = [
    opened([expected('112')]),
    ready('112'),
    at('10:00'),
    reads(24),
    gun('w1', ['112']),
    crosses('w1', '112', '2:00.0'),
    tells('takeOverWave', bo, { waveId: 'w1' }),
    ...laps.map((lap) => crosses('w1', '112', lap, 'lap', bo)),
    ...['4:00.5', '6:55.0'].map((lap) => crosses('w1', '112', lap)),
    crosses('w1', '112', '12:05.2', 'finish', bo),
  ]
  for (const step of steps) step(driven)
  return driven.entries
}

/** Whoever is seen at a headcount is touched one by one, on every tablet at once. */
export function headcountDay(): readonly DayEntry[] {
  const driven = drive()
  const steps = [
    opened([expected('112'), expected('113')]),
    ready('112', '113'),
    at('10:00'),
    reads(24),
    gun('w1', ['112', '113']),
    crosses('w1', '112', '2:00.0'),
    at('10:04'),
    tells('raiseHold', rashid, { holdId: 'h1', kind: 'lightning', zoneId: 'track' }),
    tells('disposeHold', rashid, { holdId: 'h1', disposition: 'stopAndWalkIn' }),
    tells('seeAtHeadcount', rashid, { zoneId: 'track', studentIds: ['s112', 's113'], seen: true }),
    tells('seeAtHeadcount', bo, { zoneId: 'track', studentIds: ['s113'], seen: false }),
    tells('takeHeadcount', rashid, { zoneId: 'track', present: ['s112'] }),
  ]
  for (const step of steps) step(driven)
  return driven.entries
}

/** A tablet is silent under a hold, and who stands there says over the radio that they heard it. */
export function heardByRadioDay(): readonly DayEntry[] {
  const driven = drive()
  const steps = [
    opened([expected('112')]),
    ready('112'),
    at('10:00'),
    reads(24),
    gun('w1', ['112']),
    crosses('w1', '112', '2:00.0'),
    at('10:04'),
    tells('raiseHold', rashid, { holdId: 'h1', kind: 'lightning', zoneId: 'track' }),
    tells('noteHeardByRadio', rashid, { holdId: 'h1', deviceId: 'track-1', saidBy: 'wren', words: null }),
    tells('disposeHold', rashid, { holdId: 'h1', disposition: 'stopAndWalkIn' }),
  ]
  for (const step of steps) step(driven)
  return driven.entries
}
