import { Stopwatch } from './stopwatch.tsx'
import type { Examples } from '../examples.ts'

const nothing = () => undefined
const still = () => 48_370

export const examples: Examples = {
  ready: () => <Stopwatch steady={() => performance.now()} places={2} onStop={nothing} />,
  'running, with splits': () => <Stopwatch steady={still} places={1} startedMs={31_000} splits onStop={nothing} />,
}
