import type { WaveView } from '@musterbook/day/views/station'
import { expect, test } from 'vitest'
import { waveEnd } from './forecast.ts'

const wave = (...runners: { status: string; finishMs: number | null }[]) => ({ runners }) as unknown as WaveView

test('before anybody has finished a wave is reckoned by an assumed lap, and says so', () => {
  const out = wave({ status: 'running', finishMs: null }, { status: 'withheld', finishMs: 700_000 })
  expect(waveEnd(1_000, [out], 6)).toEqual({ at: 901_000, lastsMs: 900_000, from: 'assumed' })
})

test('later by the slowest who has finished today', () => {
  const done = [wave({ status: 'finished', finishMs: 640_000 }), wave({ status: 'finished', finishMs: 871_300 })]
  expect(waveEnd(0, done, 6)).toEqual({ at: 871_300, lastsMs: 871_300, from: 'slowest' })
})
