import { Progress } from './progress.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'most of it': () => <Progress label="Reading the roster" done={31} of={40} />,
  'end not known': () => <Progress label="Reading the day" />,
}
