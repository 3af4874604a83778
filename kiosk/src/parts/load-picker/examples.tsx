import { LoadPicker } from './load-picker.tsx'
import type { Examples } from '../examples.ts'

const nothing = () => undefined
const efforts = [
  { loadTenths: 800, outcome: 'good' as const },
  { loadTenths: 900, outcome: 'noLift' as const },
]
const bench = {
  unit: 'kg' as const,
  stepsTenths: [25, 100] as const,
  efforts,
  of: 5,
  onLoad: nothing,
  onStart: nothing,
  onOutcome: nothing,
}

export const examples: Examples = {
  'loading the bar': () => <LoadPicker {...bench} loadTenths={875} phase="load" />,
  'the lift is under way': () => <LoadPicker {...bench} loadTenths={875} phase="lift" />,
}
